namespace FleetLight.Demo.Works;

/// <summary>The working hours of a crew: from eight to half past four, Monday to Friday.</summary>
internal sealed class WorkClock
{
    private static readonly TimeSpan Start = TimeSpan.FromHours(8);
    private static readonly TimeSpan End = new(16, 30, 0);
    private readonly Chance chance;

    /// <summary>Starts in the morning of that day, or of the Monday after it.</summary>
    public WorkClock(DateTimeOffset day, Chance chance)
    {
        this.chance = chance;
        Now = Morning(day);
    }

    /// <summary>The time.</summary>
    public DateTimeOffset Now { get; private set; }

    /// <summary>Some minutes later, or the next morning where the day is over.</summary>
    public DateTimeOffset Step(double leastMinutes = 2, double mostMinutes = 7)
    {
        Now = Now.AddSeconds(Math.Round(60 * chance.Between(leastMinutes, mostMinutes)));
        if (Now.TimeOfDay > End) NextMorning();
        return Now;
    }

    /// <summary>The morning so many days on, or of the Monday after it.</summary>
    public DateTimeOffset NextMorning(int days = 1) => Now = Morning(Now.AddDays(days));

    /// <summary>That day, or the Monday after it, with the hour of starting work.</summary>
    public static DateTimeOffset Morning(DateTimeOffset day)
    {
        var date = new DateTimeOffset(day.Year, day.Month, day.Day, 0, 0, 0, TimeSpan.Zero);
        while (date.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday) date = date.AddDays(1);
        return date + Start;
    }
}
