using System.Globalization;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Cql;

/// <summary>
/// Reads filters written in CQL2 text (OGC 21-065r2). Any text gives a tree or a fault with its place, never an exception.
/// </summary>
public static class CqlReader
{
    /// <summary>Most letters of a filter.</summary>
    public const int MostLetters = 8_000;

    /// <summary>How deep parts may stand within one another.</summary>
    public const int MostDepth = 60;

    /// <summary>Reads a filter.</summary>
    /// <param name="text">The text.</param>
    /// <param name="test">What it says; none where it cannot be read.</param>
    /// <param name="fault">What is wrong; none where it was read.</param>
    public static bool TryRead(string text, out CqlTest? test, out CqlFault? fault)
    {
        (test, fault) = (null, null);
        if (text.Length > MostLetters)
        {
            fault = new CqlFault($"A filter has at most {MostLetters} letters", MostLetters);
            return false;
        }

        try
        {
            test = new Reading(CqlLexer.Cut(text)).Whole();
            return true;
        }
        catch (CqlException wrong)
        {
            fault = wrong.Fault;
            return false;
        }
    }

    private sealed class Reading(List<CqlToken> tokens)
    {
        private static readonly HashSet<string> Words = new(StringComparer.OrdinalIgnoreCase)
        {
            "AND", "OR", "NOT", "BETWEEN", "IN", "IS", "NULL", "LIKE", "TRUE", "FALSE",
        };

        private int next;
        private int depth;

        private CqlToken Here => tokens[next];

        public CqlTest Whole()
        {
            var test = Any();
            if (Here.Kind != CqlTokenKind.End) throw Wrong($"'{Here.Text}' was not expected here");
            return test;
        }

        private CqlTest Any()
        {
            if (++depth > MostDepth) throw Wrong($"Parts stand more than {MostDepth} deep within one another");
            var test = Every();
            while (Here is var or && TryWord("OR")) test = new CqlOr(test, Every(), new CqlPlace(or.At));
            depth--;
            return test;
        }

        private CqlTest Every()
        {
            var test = One();
            while (Here is var and && TryWord("AND")) test = new CqlAnd(test, One(), new CqlPlace(and.At));
            return test;
        }

        private CqlTest One()
        {
            var at = new CqlPlace(Here.At);
            if (!TryWord("NOT")) return Simple();
            if (++depth > MostDepth) throw Wrong($"Parts stand more than {MostDepth} deep within one another");
            var not = new CqlNot(One(), at);
            depth--;
            return not;
        }

        private CqlTest Simple()
        {
            var start = Here;
            if (TrySign("("))
            {
                var within = Any();
                Sign(")");
                return within;
            }

            if (IsCall("S_INTERSECTS")) return Intersects();
            if (start.Kind == CqlTokenKind.Name && start.Text.StartsWith("T_", StringComparison.OrdinalIgnoreCase) && tokens[next + 1].Text == "(") return Temporal();
            if (start.Kind == CqlTokenKind.Name && start.Text.StartsWith("S_", StringComparison.OrdinalIgnoreCase) && tokens[next + 1].Text == "(")
                throw Wrong($"{start.Text} is not taken here; S_INTERSECTS is");
            return OfValue(Value());
        }

        private CqlTest OfValue(CqlValue left)
        {
            var at = left.Place;
            if (Comparison() is { } how)
            {
                next++;
                return new CqlCompare(left, how, Value(), at);
            }

            if (TryWord("IS"))
            {
                var negatedNull = TryWord("NOT");
                Word("NULL");
                return new CqlIsNull(left, negatedNull, at);
            }

            var negated = TryWord("NOT");
            if (TryWord("BETWEEN"))
            {
                var low = Value();
                Word("AND");
                return new CqlBetween(left, low, Value(), negated, at);
            }

            if (TryWord("LIKE"))
            {
                var pattern = Here;
                if (pattern.Kind != CqlTokenKind.Text) throw Wrong("A pattern in single quotes is wanted after LIKE");
                next++;
                return new CqlLike(left, pattern.Text, negated, at);
            }

            if (TryWord("IN"))
            {
                Sign("(");
                List<CqlValue> values = [Value()];
                while (TrySign(",")) values.Add(Value());
                Sign(")");
                return new CqlIn(left, new CqlList<CqlValue>(values), negated, at);
            }

            if (negated) throw Wrong("BETWEEN, LIKE or IN is wanted after NOT");
            return left switch
            {
                CqlBoolean constant => new CqlConstant(constant.Value, at),
                CqlProperty property => new CqlFlag(property, at),
                _ => throw Wrong("A comparison is wanted here"),
            };
        }

        private CqlComparison? Comparison() => Here.Kind != CqlTokenKind.Sign ? null : Here.Text switch
        {
            "=" => CqlComparison.Equal,
            "<>" => CqlComparison.NotEqual,
            "<" => CqlComparison.Less,
            "<=" => CqlComparison.LessOrEqual,
            ">" => CqlComparison.Greater,
            ">=" => CqlComparison.GreaterOrEqual,
            _ => null,
        };

        private CqlValue Value()
        {
            var token = Here;
            var at = new CqlPlace(token.At);
            switch (token.Kind)
            {
                case CqlTokenKind.Number:
                    next++;
                    return new CqlNumber(token.Number, at);
                case CqlTokenKind.Text:
                    next++;
                    return new CqlText(token.Text, at);
                case CqlTokenKind.QuotedName:
                    next++;
                    return new CqlProperty(token.Text, at);
                case CqlTokenKind.Name when token.Text.Equals("TRUE", StringComparison.OrdinalIgnoreCase) || token.Text.Equals("FALSE", StringComparison.OrdinalIgnoreCase):
                    next++;
                    return new CqlBoolean(token.Text.Length == 4, at);
                case CqlTokenKind.Name when IsCall("TIMESTAMP"):
                    return new CqlInstant(Instant(), at);
                case CqlTokenKind.Name when IsCall("DATE"):
                    return new CqlDate(Day(), at);
                case CqlTokenKind.Name when IsCall("INTERVAL"):
                    return Interval(at);
                case CqlTokenKind.Name when !Words.Contains(token.Text):
                    if (tokens[next + 1] is { Kind: CqlTokenKind.Sign, Text: "(" }) throw Wrong($"There is no function {token.Text} here");
                    next++;
                    return new CqlProperty(token.Text, at);
                case CqlTokenKind.End:
                    throw Wrong("The filter ends where a property or a value is wanted");
                default:
                    throw Wrong($"A property or a value is wanted, not '{token.Text}'");
            }
        }

        private DateTimeOffset Instant() => Argument<DateTimeOffset>(text => CqlTimes.TryInstant(text, out var time) ? time : null, "an instant such as '2026-05-04T07:30:00Z'");

        private DateOnly Day() => Argument<DateOnly>(
            text => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : null,
            "a day such as '2026-05-04'");

        private T Argument<T>(Func<string, T?> read, string wanted) where T : struct
        {
            next++;
            Sign("(");
            if (Here.Kind != CqlTokenKind.Text || read(Here.Text) is not { } value) throw Wrong($"Here {wanted} is wanted");
            next++;
            Sign(")");
            return value;
        }

        private CqlInterval Interval(CqlPlace at)
        {
            next++;
            Sign("(");
            var from = End(last: false);
            Sign(",");
            var to = End(last: true);
            Sign(")");
            return new CqlInterval(from, to, at);
        }

        private DateTimeOffset? End(bool last)
        {
            if (Here.Kind != CqlTokenKind.Text) throw Wrong("An instant, a day or '..' in single quotes is wanted");
            if (Here.Text == "..")
            {
                next++;
                return null;
            }

            if (!CqlTimes.TryInstantOrDay(Here.Text, last, out var time)) throw Wrong("An instant such as '2026-05-04T07:30:00Z', a day or '..' is wanted");
            next++;
            return time;
        }

        private CqlTime Temporal()
        {
            var call = Here;
            if (!Enum.TryParse<CqlTemporal>(call.Text.AsSpan(2), ignoreCase: true, out var how)
                || !Enum.GetNames<CqlTemporal>().Contains(call.Text[2..], StringComparer.OrdinalIgnoreCase))
                throw Wrong($"{call.Text} is not taken here; T_AFTER, T_BEFORE, T_DURING, T_EQUALS and T_INTERSECTS are");
            next++;
            Sign("(");
            var left = Value();
            Sign(",");
            var right = Value();
            Sign(")");
            return new CqlTime(how, left, right, new CqlPlace(call.At));
        }

        private CqlIntersects Intersects()
        {
            var at = new CqlPlace(Here.At);
            next++;
            Sign("(");
            var left = Shape();
            Sign(",");
            var right = Shape();
            Sign(")");
            return new CqlIntersects(left, right, at);
        }

        private CqlShape Shape()
        {
            var token = Here;
            var at = new CqlPlace(token.At);
            if (token.Kind == CqlTokenKind.QuotedName)
            {
                next++;
                return new CqlShapeProperty(token.Text, at);
            }

            if (token.Kind != CqlTokenKind.Name) throw Wrong("A shape is wanted: the property 'geometry', POINT, LINESTRING, POLYGON, BBOX and the like");
            next++;
            if (!TrySign("(")) return new CqlShapeProperty(token.Text, at);
            var shape = CqlShapes.Read(token, Numbers, () => TrySign("("), () => TrySign(","), () => Sign(")"));
            return shape is Geometry geometry ? new CqlGeometry(geometry, at) : Box((double[])shape, token);
        }

        private static CqlBox Box(double[] sides, CqlToken token) => sides.Length switch
        {
            4 => new CqlBox(sides[0], sides[1], sides[2], sides[3], new CqlPlace(token.At)),
            6 => new CqlBox(sides[0], sides[1], sides[3], sides[4], new CqlPlace(token.At)),
            _ => throw new CqlException("BBOX takes four numbers, or six with heights", token.At),
        };

        // Numbers with nothing between them: a position.
        private List<double> Numbers()
        {
            List<double> numbers = [];
            while (Here.Kind == CqlTokenKind.Number)
            {
                numbers.Add(Here.Number);
                next++;
            }

            if (numbers.Count == 0) throw Wrong("A number is wanted");
            return numbers;
        }

        private bool IsCall(string name) =>
            Here.Kind == CqlTokenKind.Name && Here.Text.Equals(name, StringComparison.OrdinalIgnoreCase) && tokens[next + 1] is { Kind: CqlTokenKind.Sign, Text: "(" };

        private bool TryWord(string word)
        {
            if (Here.Kind != CqlTokenKind.Name || !Here.Text.Equals(word, StringComparison.OrdinalIgnoreCase)) return false;
            next++;
            return true;
        }

        private void Word(string word)
        {
            if (!TryWord(word)) throw Wrong($"{word} is wanted");
        }

        private bool TrySign(string sign)
        {
            if (Here.Kind != CqlTokenKind.Sign || Here.Text != sign) return false;
            next++;
            return true;
        }

        private void Sign(string sign)
        {
            if (!TrySign(sign)) throw Wrong(Here.Kind == CqlTokenKind.End ? $"The filter ends where '{sign}' is wanted" : $"'{sign}' is wanted, not '{Here.Text}'");
        }

        private CqlException Wrong(string says) => new(says, Here.At);
    }
}
