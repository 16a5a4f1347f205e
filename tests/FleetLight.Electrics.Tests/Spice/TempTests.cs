namespace FleetLight.Electrics.Tests.Spice;
public class TempTests
{
    public static TheoryData<SeriesKind> Kinds => new(Enum.GetValues<SeriesKind>());
    [Theory, MemberData(nameof(Kinds))]
    public void Temp(SeriesKind kind)
    {
        for (var i = 0; i < 10; i++)
        {
            var c = SeriesCircuits.Make(kind, i, 1);
            var o = SeriesDeck.Solve(new AsFound(c.Model, c.Assumptions, c.Changes));
            TestContext.Current.TestOutputHelper!.WriteLine($"{c.Name} {c.Model.Fittings.Length} {o?.DriverVolts} {o?.DriverMilliamps} of {c.Model.Driver.MostVolts} {c.Model.Driver.RatedMilliamps}");
            if (o is null) File.WriteAllText($"/tmp/sp/{kind}{i}.cir", SeriesDeck.Text(new AsFound(c.Model, c.Assumptions, c.Changes)));
        }
    }
}
