using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Benchmarks;

/// <summary>Invented facts: the whole job of a circuit, and rounds of readings. About 300 bytes each.</summary>
internal static class Facts
{
    /// <summary>The whole job of one circuit from duct to energising: 27 facts about a circuit, a duct, a cable and a box.</summary>
    public static IEnumerable<IFact> Job(string site, string circuit)
    {
        var (duct, cable, box) = ($"d-{circuit}", $"c-{circuit}", $"b-{circuit}");
        string Fitting(int index) => $"{circuit}-f{index}";
        yield return new DuctLaid
        {
            SiteId = site,
            DuctId = duct,
            Service = DuctService.LightingExtraLowVoltage,
            Colour = DuctColour.Orange,
            Wall = DuctWall.TwinWall,
            BoreMillimetres = 50,
            LengthMetres = 24,
            DepthMillimetres = 450,
        };
        yield return new DuctLabelled { SiteId = site, DuctId = duct, Label = duct };
        yield return new StringLeft { SiteId = site, DuctId = duct, Method = StringMethod.LaidIn };
        yield return new CircuitDesigned
        {
            SiteId = site,
            CircuitId = circuit,
            Name = $"Path {circuit}",
            Drive = DriveKind.ConstantCurrent,
            Driver = new DriverDesign { RatedMilliamps = 350, LeastVolts = 6, MostVolts = 36, MostWatts = 12.6 },
            Fittings = [.. Enumerable.Range(0, 4).Select(index => new FittingDesign { FittingId = Fitting(index), RatedWatts = 1.6 })],
            Runs =
            [
                new RunDesign
                {
                    RunId = "r1",
                    From = "driver",
                    To = box,
                    LengthMetres = 25,
                    AreaSquareMillimetres = 1.5,
                    ConductorClass = ConductorClass.Class5,
                    CableId = cable,
                },
            ],
        };
        yield return new CablePulled
        {
            SiteId = site,
            CableId = cable,
            DuctIds = [duct],
            LengthMetres = 26,
            AreaSquareMillimetres = 1.5,
            ConductorClass = ConductorClass.Class5,
            Cores =
            [
                new CoreAssignment { Core = "brown", Use = CoreUse.Circuit, CircuitId = circuit },
                new CoreAssignment { Core = "blue", Use = CoreUse.Circuit, CircuitId = circuit },
            ],
        };
        yield return new StringLeft { SiteId = site, DuctId = duct, Method = StringMethod.Pulled };
        foreach (var end in Enum.GetValues<RunEnd>())
        {
            yield return new DuctPlugged { SiteId = site, DuctId = duct, End = end };
            yield return new CoreSleeved { SiteId = site, CableId = cable, Core = "brown", Polarity = CorePolarity.Positive, End = end };
            yield return new CoreSleeved { SiteId = site, CableId = cable, Core = "blue", Polarity = CorePolarity.Negative, End = end };
        }

        yield return new CableLabelled { SiteId = site, CableId = cable, Label = cable };
        for (var index = 0; index < 4; index++) yield return new FittingFixed { SiteId = site, CircuitId = circuit, FittingId = Fitting(index) };
        yield return new JointMade
        {
            SiteId = site,
            BoxId = box,
            JointId = $"j-{circuit}",
            CircuitId = circuit,
            Arrangement = JointArrangement.Series,
            Connectors = [new Connector { Conductors = [new HeldConductor { CableId = cable, Core = "brown" }, new HeldConductor { FittingId = Fitting(0), Core = "red" }] }],
        };
        yield return new BoxSealed { SiteId = site, BoxId = box, Lie = BoxLie.FlatInGround, Entry = BoxEntry.Glands, StrainRelief = true, GelFilled = true, Breathing = false };
        yield return new DriverConnected { SiteId = site, CircuitId = circuit, At = "garage wall" };
        yield return new TestMade { SiteId = site, CircuitId = circuit, Test = TestKind.InsulationResistance, NominalVolts = 36, TestVolts = 250, Megohms = 180 };
        yield return new TestMade { SiteId = site, CircuitId = circuit, Test = TestKind.Polarity, PolarityRight = true };
        yield return Reading(site, circuit, 0);
        yield return new CircuitEnergised { SiteId = site, CircuitId = circuit };
        yield return Reading(site, circuit, 1);
        yield return Reading(site, circuit, 2);
    }

    /// <summary>A reading at the driver that is within what it should be.</summary>
    public static ReadingTaken Reading(string site, string circuit, int number) => new()
    {
        SiteId = site,
        CircuitId = circuit,
        Place = ReadingPlaceKind.Driver,
        Quantity = ReadingQuantity.VoltsDc,
        Value = 18.5 + number % 7 * 0.01,
    };

    /// <summary>A batch as a device sends it.</summary>
    public static byte[] Batch(string source, ref int number, IEnumerable<IFact> facts, DateTimeOffset time)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartArray();
            foreach (var fact in facts)
            {
                number++;
                json.WriteStartObject();
                json.WriteString("specversion", "1.0");
                json.WriteString("id", Guid.NewGuid());
                json.WriteString("source", source);
                json.WriteString("type", FactTypes.NameOf(fact.GetType()));
                json.WriteString("time", time.AddMilliseconds(number));
                json.WriteString("datacontenttype", "application/json");
                json.WriteNumber(Envelope.RunningNumber, number);
                json.WritePropertyName("data");
                JsonSerializer.Serialize(json, fact, fact.GetType(), WireJson.Strict);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        return stream.ToArray();
    }
}
