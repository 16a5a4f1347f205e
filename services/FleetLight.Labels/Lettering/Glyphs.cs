using System.Collections.Frozen;

namespace FleetLight.Labels.Lettering;

/// <summary>One letter as the strokes of a pen.</summary>
/// <param name="Width">Width of the letter, in units of the grid.</param>
/// <param name="Strokes">The strokes, each a line through points (x, y) of the grid; y grows upwards.</param>
internal sealed record Glyph(int Width, IReadOnlyList<IReadOnlyList<(int X, int Y)>> Strokes);

/// <summary>
/// Our own single-stroke letters, drawn for labels: every corner is cut, so that they read when small and worn, and what is easily
/// taken for something else differs (0 O, 1 l I, 5 S, 8 B). They are drawn as lines, so no font is needed anywhere, and screen, paper
/// and label printer show the same. A point is two digits of base 36, x then y; the line that letters stand on is y 4, small letters
/// reach up to 12, capitals to 16, tails down to 0, accents of capitals up to 20.
/// </summary>
internal static class Glyphs
{
    /// <summary>The line that letters stand on.</summary>
    public const int BaseLine = 4;

    /// <summary>Height of capitals above the line that they stand on.</summary>
    public const int CapHeight = 12;

    /// <summary>The highest point of any letter, accents of capitals included.</summary>
    public const int Top = 20;

    /// <summary>Space between letters.</summary>
    public const int Spacing = 3;

    private const string Capitals = """
        A 8 044g84 1777
        B 8 040g6g8e8c6a0a 6a88866404
        C 8 8e6g2g0e06246486
        D 8 040g5g8d875404
        E 7 7g0g0474 0a6a
        F 7 7g0g04 0a6a
        G 8 8e6g2g0e062464868a5a
        H 8 040g 848g 0a8a
        I 4 0444 0g4g 242g
        J 6 6g66442406
        K 8 040g 8g08 3b84
        L 7 0g0474
        Ł 8 1g1484 085c
        M a 040g57aga4
        N 8 040g848g
        O 8 2g6g8e866424060e2g
        P 8 040g6g8e8b6909
        Q 8 2g6g8e866424060e2g 5783
        R 8 040g6g8e8b6909 4984
        S 8 8e6g2g0e0c2a6a8886642406
        T 8 0g8g 444g
        U 8 0g062464868g
        V 8 0g448g
        W c 0g346d94cg
        X 8 048g 0g84
        Y 8 0g4a8g 4a44
        Z 8 0g8g0484
        Ø 8 2g6g8e866424060e2g 048g
        ẞ 8 040e2g6g8e5a78866434
        Ω 8 0424270a0e2g6g8e8a676484
        """;

    private const string Small = """
        a 7 7c74 7a5c2c0a06245476
        b 7 040g 0a2c5c7a76542406
        c 6 6b5c2c0a06245465
        d 7 7g74 7a5c2c0a06245476
        e 7 08787a5c2c0a06245466
        f 5 5g4g2e24 0c4c
        g 7 7c72502001 7a5c2c0a06245476
        h 7 040g 0a2c5c7a74
        i 2 1c14 1f1g
        j 4 3c322000 3f3g
        k 6 040g 6c07 2964
        l 3 0g062434
        ł 4 1g163444 083c
        m a 040c 0a2c3c5a54 5a7c8caaa4
        n 7 040c 0a2c5c7a74
        o 7 2c5c7a765424060a2c
        p 7 000c 0a2c5c7a76542406
        q 7 707c 7a5c2c0a06245476
        r 5 040c 093c5c
        s 6 6b5c1c0b09185867655414 1405
        t 5 2g264454 0c5c
        u 7 0c06245476 7c74
        v 6 0c346c
        w a 0c245a84ac
        x 6 046c 0c64
        y 6 0c34 6c342000
        z 6 0c6c0464
        ß 7 040e2g5g7e7c5a78765434
        ø 7 2c5c7a765424060a2c 047c
        ı 2 1c14
        µ 7 000c 0c06245476 7c74
        """;

    private const string Figures = """
        0 7 2g5g7e765424060e2g 166e
        1 5 0d3g34 1454
        2 7 0e2g5g7e7c0474
        3 7 0e2g5g7e7c5a2a 5a7876542406
        4 7 545g0777
        5 7 7g0g0b5b7976542406
        6 7 7e5g2g0e0624547679 795b2b09
        7 7 0g7g24
        8 7 2g5g7e7c5a2a0c0e2g 2a0806245476785a
        9 7 7b59290b0e2g5g7e76542406
        ² 5 0f1g3g4f4e0a4a
        ³ 5 0f1g3g4f4e3d1d 3d4c4b3a1a0b
        """;

    private const string Signs = """
        . 2 1415
        , 2 151302
        : 2 1415 1b1c
        ; 2 151302 1b1c
        ! 2 1415 181g
        ? 6 0e2g4g6e6c3938 3435
        - 5 0959
        – 7 0979
        — a 09a9
        _ 7 0272
        / 6 046g
        \ 6 0g64
        ( 3 3g0d0734
        ) 3 0g3d3704
        [ 3 3g0g0434
        ] 3 0g3g3404
        { 4 4g2f2b0a292544
        } 4 0g2f2b4a292504
        + 6 0969 363c
        = 6 0868 0b6b
        * 6 373d 086c 0c68
        # 8 244g 547g 0878 1c8c
        % 8 048g 1g3g3d1d1g 5777745457
        & 8 842c2e3g5g6e6c0806245488
        ' 2 1g1d
        ’ 2 1g1e0d
        " 4 1g1d 3g3d
        @ 9 6b4b3a384768 6b68789a9d7g3g0d073474
        < 6 6d0965
        > 6 0d6905
        | 2 131g
        ~ 6 081a2a48586a
        ^ 6 0c3g6c
        ` 3 0g2e
        $ 8 8e6g2g0e0c2a6a8886642406 424i
        € 8 8e6g3g1e16346486 0b6b 0959
        £ 7 7e5g3g1e1404 0474 0a5a
        ° 4 1g3g4f4d3c1c0d0f1g
        ± 6 0a6a 373d 0464
        × 6 066c 0c66
        · 2 191a
        """;

    // An accent as it stands over a small letter; over a capital it stands four units higher.
    private static readonly Dictionary<char, (string Strokes, int Middle)> Accents = new()
    {
        ['`'] = ("1g3e", 2),
        ['´'] = ("1e3g", 2),
        ['^'] = ("0e2g4e", 2),
        ['~'] = ("0e1g2f3e4g", 2),
        ['¨'] = ("0f0g 4f4g", 2),
        ['°'] = ("1e1g3g3e1e", 2),
        ['ˇ'] = ("0g2e4g", 2),
        ['¯'] = ("0f4f", 2),
        ['˙'] = ("2f2g", 2),
        ['˝'] = ("0e1g 3e4g", 2),
        ['¸'] = ("24223120", 2),
        ['˛'] = ("24222030", 2),
    };

    // Letter, what it is made of, and the accent: three characters each.
    private const string Accented =
        "ÀA` ÁA´ ÂA^ ÃA~ ÄA¨ ÅA° ĄA˛ ÇC¸ ĆC´ ČCˇ ĎDˇ ÈE` ÉE´ ÊE^ ËE¨ ĘE˛ ĚEˇ ĖE˙ ÌI` ÍI´ ÎI^ ÏI¨ İI˙ ŃN´ ÑN~ ŇNˇ ÒO` ÓO´ ÔO^ ÕO~ ÖO¨ ŐO˝ ŘRˇ ŚS´ ŠSˇ ŞS¸ ŤTˇ ÙU` "
        + "ÚU´ ÛU^ ÜU¨ ŮU° ŰU˝ ŪU¯ ÝY´ ŸY¨ ŹZ´ ŽZˇ ŻZ˙ ĀA¯ ĒE¯ ĪI¯ "
        + "àa` áa´ âa^ ãa~ äa¨ åa° ąa˛ çc¸ ćc´ čcˇ èe` ée´ êe^ ëe¨ ęe˛ ěeˇ ėe˙ ìı` íı´ îı^ ïı¨ ńn´ ñn~ ňnˇ òo` óo´ ôo^ õo~ öo¨ őo˝ řrˇ śs´ šsˇ şs¸ ùu` úu´ "
        + "ûu^ üu¨ ůu° űu˝ ūu¯ ýy´ ÿy¨ źz´ žzˇ żz˙ āa¯ ēe¯ īı¯";

    private static readonly FrozenDictionary<char, Glyph> All = Make();

    /// <summary>Whether there is a letter for that character.</summary>
    public static bool Has(char character) => character == ' ' || All.ContainsKey(character);

    /// <summary>The letter; an empty frame for a character that there is none for.</summary>
    public static Glyph Of(char character) => All.GetValueOrDefault(character) ?? (character == ' ' ? Space : Unknown);

    private static readonly Glyph Space = new(5, []);

    private static readonly Glyph Unknown = new(7, Strokes("040g7g7404"));

    private static FrozenDictionary<char, Glyph> Make()
    {
        var all = new Dictionary<char, Glyph>();
        foreach (var line in $"{Capitals}\n{Small}\n{Figures}\n{Signs}".Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            var letter = line.TrimEnd('\r');
            all.Add(letter[0], new Glyph(Digit(letter[2]), Strokes(letter[4..])));
        }

        foreach (var made in Accented.Split(' ')) all.Add(made[0], WithAccent(all[made[1]], made[2], char.IsUpper(made[1])));
        return all.ToFrozenDictionary();
    }

    // A narrow letter under a wide accent gets the room of the accent.
    private static Glyph WithAccent(Glyph letter, char accent, bool isCapital)
    {
        var (strokes, middle) = Accents[accent];
        var up = isCapital && accent is not ('¸' or '˛') ? 4 : 0;
        var over = Strokes(strokes).Select(stroke => Moved(stroke, (letter.Width / 2) - middle, up)).ToList();
        var left = Math.Max(0, -over.Min(stroke => stroke.Min(point => point.X)));
        var right = over.Max(stroke => stroke.Max(point => point.X));
        return new Glyph(left + Math.Max(letter.Width, right), [.. letter.Strokes.Concat(over).Select(stroke => Moved(stroke, left, 0))]);
    }

    private static IReadOnlyList<(int X, int Y)> Moved(IReadOnlyList<(int X, int Y)> stroke, int right, int up) =>
        [.. stroke.Select(point => (point.X + right, point.Y + up))];

    private static IReadOnlyList<IReadOnlyList<(int X, int Y)>> Strokes(string text) =>
        [.. text.Split(' ').Select(stroke => (IReadOnlyList<(int, int)>)[.. stroke.Chunk(2).Select(point => (Digit(point[0]), Digit(point[1])))])];

    private static int Digit(char digit) => char.IsAsciiDigit(digit) ? digit - '0' : digit - 'a' + 10;
}
