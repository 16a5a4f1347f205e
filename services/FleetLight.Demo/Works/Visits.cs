using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>The monthly readings at dusk.</summary>
internal static class Visits
{
    /// <summary>Months of readings.</summary>
    public const int Months = 18;

    /// <summary>Reads every circuit of a site once a month from its handover on.</summary>
    /// <param name="world">The world.</param>
    /// <param name="site">The site.</param>
    /// <param name="order">Its place among the sites, which spreads the visits over the days.</param>
    /// <param name="handedOver">When it was handed over.</param>
    public static void Read(World world, SitePlan site, int order, DateTimeOffset handedOver)
    {
        for (var month = Months; month >= 0; month--)
        {
            var day = DayOf(world, order, month);
            if (day <= handedOver) continue;
            // Every third round is done with the test rig.
            var device = month % 3 == 1 ? Crews.Rig : site.Crew.Phone;
            var clock = new DuskClock(day, Chance.Of(world.Seed, $"{site.Id} visit {month}"));
            foreach (var circuit in site.Circuits)
            {
                if (month == 0 && circuit.Role == Role.ReadingWithdrawn) Mistype(world, circuit, device, clock);
                Readings.Take(world, circuit, device, clock.Step);
            }
        }
    }

    /// <summary>The day of a visit, so many months before the last one; the last is some days before the anchor.</summary>
    private static DateTimeOffset DayOf(World world, int order, int month)
    {
        var day = world.Anchor.AddDays(-3 - (order % 6) - Math.Round(month * 30.44));
        while (day.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday) day = day.AddDays(-1);
        return day;
    }

    // The comma in the wrong place, seen at once, withdrawn the next morning.
    private static void Mistype(World world, CircuitPlan circuit, Device device, DuskClock clock)
    {
        var wrong = Readings.Record(world, circuit, device, clock.Step(), ReadingQuantity.VoltsDc, mistype: shown => Math.Round(shown * 10, 1));
        world.Journal.Add(Crews.Tablet, wrong.At.AddHours(14), new FactCorrected
        {
            SiteId = circuit.Design.SiteId,
            TargetSource = device.Source,
            TargetId = wrong.Id,
            TargetType = FactTypes.NameOf(typeof(ReadingTaken)),
            Action = CorrectionAction.Withdraw,
            Reason = "Typed with the point in the wrong place.",
        });
    }

    private sealed class DuskClock(DateTimeOffset day, Chance chance)
    {
        private DateTimeOffset now = day + new TimeSpan(17, 0, 0);

        public DateTimeOffset Step() => now = now.AddSeconds(chance.Whole(60, 180));
    }
}
