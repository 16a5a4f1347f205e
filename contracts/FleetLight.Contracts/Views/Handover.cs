using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>
/// What is handed to the owner of a site: what was built, what state it is in, what to look after, and on which facts all of it
/// rests. Advice, never a certificate.
/// </summary>
public sealed record HandoverPack
{
    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>Where it is, in words.</summary>
    public string? Place { get; init; }

    /// <summary>When work began.</summary>
    public DateTimeOffset? OpenedAt { get; init; }

    /// <summary>What had happened by then is told; all that is known where absent.</summary>
    public DateTimeOffset? AsOf { get; init; }

    /// <summary>The day that the pack tells of, by the clock of <see cref="OffsetMinutes"/>.</summary>
    public required DateOnly Day { get; init; }

    /// <summary>How far the clock of days and times is ahead of UTC, min.</summary>
    [Quantity("min", -840, 840)]
    public required int OffsetMinutes { get; init; }

    /// <summary>The first day on which every circuit was in use; none while one is not.</summary>
    public DateOnly? CommissionedOn { get; init; }

    /// <summary>The first page, in plain words.</summary>
    public required HandoverSummary Summary { get; init; }

    /// <summary>Its ducts, by their names.</summary>
    public required IReadOnlyList<DuctView> Ducts { get; init; }

    /// <summary>Its cables, by their names.</summary>
    public required IReadOnlyList<CableView> Cables { get; init; }

    /// <summary>Its boxes, by their names.</summary>
    public required IReadOnlyList<BoxView> Boxes { get; init; }

    /// <summary>Its circuits, by their names.</summary>
    public required IReadOnlyList<HandoverCircuit> Circuits { get; init; }

    /// <summary>How circuits were judged.</summary>
    public required HandoverLimits Limits { get; init; }

    /// <summary>What to look after, the soonest first.</summary>
    public required IReadOnlyList<MaintenanceTask> Maintenance { get; init; }

    /// <summary>What is not done, or not recorded.</summary>
    public required IReadOnlyList<OpenPoint> OpenPoints { get; init; }

    /// <summary>What to look after though no fact records it.</summary>
    public required IReadOnlyList<Reminder> Reminders { get; init; }

    /// <summary>What the rules find now, the weightiest first: each is an alert that stands.</summary>
    public required IReadOnlyList<Finding> Alerts { get; init; }

    /// <summary>What people noted of these alerts, those of one alert oldest first. Notes are the office's and no facts: the digest is not over them.</summary>
    public required IReadOnlyList<HandoverNote> Notes { get; init; }

    /// <summary>What to mind.</summary>
    public required IReadOnlyList<HandoverCaution> Cautions { get; init; }

    /// <summary>Who recorded it.</summary>
    public required IReadOnlyList<HandoverRecorder> Recorders { get; init; }

    /// <summary>The facts behind it, and a digest over them.</summary>
    public required HandoverDigest Digest { get; init; }
}

/// <summary>The first page of a handover pack, in plain words: a paragraph or point each.</summary>
public sealed record HandoverSummary
{
    /// <summary>What is in the ground.</summary>
    public required IReadOnlyList<string> InTheGround { get; init; }

    /// <summary>What state it is in.</summary>
    public required IReadOnlyList<string> State { get; init; }

    /// <summary>What to look after.</summary>
    public required IReadOnlyList<string> LookAfter { get; init; }

    /// <summary>What not to do.</summary>
    public required IReadOnlyList<string> DoNot { get; init; }
}

/// <summary>A circuit in a handover pack.</summary>
public sealed record HandoverCircuit
{
    /// <summary>Its state, without its facts and without what would explain its readings.</summary>
    public required CircuitView State { get; init; }

    /// <summary>The circuit as built; none without a design.</summary>
    public CircuitInput? Built { get; init; }

    /// <summary>Which cable makes which run, by the run's id; runs whose cable is not recorded are left out.</summary>
    public required IReadOnlyDictionary<string, string> CableOfRun { get; init; }

    /// <summary>What its fittings are, in words, by their ids, where the design says.</summary>
    public required IReadOnlyDictionary<string, string> FittingIs { get; init; }

    /// <summary>Whether it has a mains side that is part of the job.</summary>
    public required bool MainsSide { get; init; }

    /// <summary>The day on which it was handed over, else first energised; none where neither was recorded.</summary>
    public DateOnly? CommissionedOn { get; init; }

    /// <summary>Its readings that count, newest first.</summary>
    public required IReadOnlyList<HandoverReading> Readings { get; init; }

    /// <summary>Its tests that count, newest first.</summary>
    public required IReadOnlyList<HandoverTest> Tests { get; init; }
}

/// <summary>A reading, what it should have been, and who took it.</summary>
public sealed record HandoverReading
{
    /// <summary>The reading and what was made of it.</summary>
    public required ReadingView Reading { get; init; }

    /// <summary>Who took it: the source of the fact.</summary>
    public required string By { get; init; }

    /// <summary>With which meter, where stated.</summary>
    public string? MeterName { get; init; }

    /// <summary>Accuracy of the meter, where stated.</summary>
    public MeterAccuracy? Meter { get; init; }
}

/// <summary>A test, and who made it.</summary>
public sealed record HandoverTest
{
    /// <summary>The test and what was made of it.</summary>
    public required TestView Test { get; init; }

    /// <summary>The fact, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>Who made it: the source of the fact.</summary>
    public required string By { get; init; }

    /// <summary>With which tester, where stated.</summary>
    public string? MeterName { get; init; }
}

/// <summary>By which limits readings were judged.</summary>
public sealed record HandoverLimits
{
    /// <summary>Version of the organisation's settings of judging, no unit; 0 while the defaults are in force.</summary>
    public required int SettingsVersion { get; init; }

    /// <summary>Versions of the models that judged, no unit.</summary>
    public required IReadOnlyList<int> ModelVersions { get; init; }

    /// <summary>By which risks readings were judged, in full.</summary>
    public required RuleInput Rule { get; init; }

    /// <summary>What was assumed where the record is silent, in full.</summary>
    public required AssumptionsInput Assumptions { get; init; }
}

/// <summary>Something to look after again and again, with its days. Advice by common practice; local rules come first.</summary>
public sealed record MaintenanceTask
{
    /// <summary>Which task: the same word in every pack.</summary>
    public required string Key { get; init; }

    /// <summary>What to do, in plain words.</summary>
    public required string What { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string Why { get; init; }

    /// <summary>Who should do it.</summary>
    public required MaintenanceHand Hand { get; init; }

    /// <summary>The circuits concerned; none where it is the whole site.</summary>
    public required IReadOnlyList<string> CircuitIds { get; init; }

    /// <summary>How often, months; none for once.</summary>
    [Quantity("1", 1, 240)]
    public int? EveryMonths { get; init; }

    /// <summary>When it was last done, where a fact says so.</summary>
    public DateOnly? LastOn { get; init; }

    /// <summary>The next days, soonest first; none while nothing is in use.</summary>
    public required IReadOnlyList<DateOnly> Due { get; init; }

    /// <summary>Whether the first of them lies before the day of the pack.</summary>
    public required bool Overdue { get; init; }
}

/// <summary>Who should do a task.</summary>
public enum MaintenanceHand
{
    /// <summary>The owner, without opening anything.</summary>
    Owner,

    /// <summary>A lighting crew.</summary>
    Crew,

    /// <summary>A person licensed for mains work where the law asks for it.</summary>
    Licensed,
}

/// <summary>What somebody noted of an alert that stands; rule, subject and cause name the alert.</summary>
public sealed record HandoverNote
{
    /// <summary>The rule.</summary>
    public required string Rule { get; init; }

    /// <summary>The thing that the alert is about.</summary>
    public required ThingRef Subject { get; init; }

    /// <summary>What distinguishes its cause from others of the same rule on the same thing.</summary>
    public required string Cause { get; init; }

    /// <summary>Who noted it.</summary>
    public required string By { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>What they noted; absent where they only took note.</summary>
    public string? Says { get; init; }
}

/// <summary>What to mind. Local codes and licensed practice come first.</summary>
/// <param name="About">What it is about, in a few words.</param>
/// <param name="Says">What to mind, in plain words.</param>
public sealed record HandoverCaution(string About, string Says);

/// <summary>Who recorded facts of a site.</summary>
public sealed record HandoverRecorder
{
    /// <summary>The source of the facts: a device, or the office.</summary>
    public required string Source { get; init; }

    /// <summary>What the office calls it, where it has a name.</summary>
    public string? Name { get; init; }

    /// <summary>Number of facts, a count.</summary>
    public required int Facts { get; init; }

    /// <summary>Number of facts by type, counts.</summary>
    public required IReadOnlyDictionary<string, int> FactsByType { get; init; }

    /// <summary>When the first of them happened.</summary>
    public required DateTimeOffset FirstAt { get; init; }

    /// <summary>When the last of them happened.</summary>
    public required DateTimeOffset LastAt { get; init; }

    /// <summary>Number of facts whose time is doubtful, a count.</summary>
    public required int DoubtfulTimes { get; init; }
}

/// <summary>The facts that a pack rests on, so that it can be seen later that none was altered, added or taken away.</summary>
public sealed record HandoverDigest
{
    /// <summary>
    /// SHA-256 of the list of facts as text, hexadecimal: a line a fact in the order of <see cref="Facts"/>, its digest, a blank, its
    /// name and a line feed. <c>format=facts</c> answers exactly that text.
    /// </summary>
    public required string Sha256 { get; init; }

    /// <summary>When the newest of them was recorded. Asked for again with the same <c>asOf</c> and this <c>knownBy</c>, the list is the same.</summary>
    public DateTimeOffset? KnownBy { get; init; }

    /// <summary>The facts, by their names.</summary>
    public required IReadOnlyList<HandoverFact> Facts { get; init; }
}

/// <summary>A fact behind a pack.</summary>
/// <param name="Fact">The fact, <c>source#id</c>.</param>
/// <param name="Sha256">SHA-256 over the fact as it is kept, hexadecimal.</param>
public sealed record HandoverFact(string Fact, string Sha256);
