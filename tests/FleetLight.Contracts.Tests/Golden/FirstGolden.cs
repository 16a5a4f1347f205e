using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using FleetLight.Contracts.Tests.Examples;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Alerts;
using FleetLight.Record.Visits;
using FleetLight.Service.Audit;
using FleetLight.Service.Photos;
using FleetLight.Service.Store;
using FleetLight.Service.Works;

namespace FleetLight.Contracts.Tests.Golden;

/// <summary>What a golden file is first made of: the example of the fact as it would be kept, or a piece of an alert's life.</summary>
internal static class FirstGolden
{
    private const string AlertId = "5b0e6f2c9d418a7733c0de14";
    private const string VisitId = "4be2077f1c09a6d8";
    private const string Plugged = "/devices/crew-1#3f0c5a07-71b4-4d2e-9a60-0c2f8e5d1a07";
    private static readonly Guid Set = new("0f8e5d1a-0771-8b41-8d2e-9a600c2f8e5d");
    private static readonly DateTimeOffset Known = new(2026, 3, 4, 17, 30, 0, TimeSpan.Zero);

    /// <summary>The event to keep under that name.</summary>
    public static object Of(string name) => name switch
    {
        "fleetlight.alert.raised.v1" => new AlertRaised { AlertId = AlertId, SiteId = "s-plot-14", Finding = Open("near and far"), At = Known },
        "fleetlight.alert.updated.v1" => new AlertUpdated { AlertId = AlertId, SiteId = "s-plot-14", Finding = Open("near"), At = Known.AddHours(1) },
        "fleetlight.alert.acknowledged.v1" =>
            new AlertAcknowledged { AlertId = AlertId, By = "Office", Note = "The crew is back on Thursday.", At = Known.AddHours(2) },
        "fleetlight.alert.cleared.v1" => new AlertCleared { AlertId = AlertId, SiteId = "s-plot-14", ClearedBy = [Plugged], At = Known.AddHours(3) },
        "fleetlight.set-aside.again.v1" => new ToTakeInAgain { Events = [Set], Things = ["box:b-steps"], By = "Office", At = Known.AddHours(4) },
        "fleetlight.audit.act-done.v1" => new ActDone
        {
            Act = AdministrativeAct.KeyMade,
            Target = "0a1b2c3d4e5f",
            By = new Actor(ActorKind.Person, "https://people.example#u-17", "Office"),
            At = Known,
            From = "192.0.2.7",
            Details = new Dictionary<string, string> { ["name"] = "van 3", ["role"] = "device", ["source"] = "/devices/crew-1" },
        },
        "fleetlight.attachment.kept.v1" => new AttachmentKept
        {
            Sha256 = "2f1d6c8b0e4a9375c1d0e7f6a5b4c3d2e1f00918273645546372819a0b1c2d3e",
            MediaType = "image/jpeg",
            SizeBytes = 184320,
            Source = "/devices/crew-1",
            At = Known,
        },
        "fleetlight.visit.planned.v1" =>
            new VisitPlanned { VisitId = VisitId, SiteId = "s-plot-14", Plan = Plan(12, "The gate is locked; ring first."), By = "Office", At = Known },
        "fleetlight.visit.changed.v1" => new VisitChanged { VisitId = VisitId, Plan = Plan(13, null), By = "Crew lead", At = Known.AddHours(1) },
        "fleetlight.visit.done.v1" => new VisitDone { VisitId = VisitId, Note = "Both ends plugged.", By = "Van 3", At = Known.AddDays(9) },
        "fleetlight.visit.called-off.v1" => new VisitCalledOff { VisitId = "8c41d0977ab2e35f", By = "Office", At = Known.AddHours(2) },
        _ => Fact(name),
    };

    private static VisitPlan Plan(int day, string? note) =>
        new() { Day = new DateOnly(2026, 3, day), Crew = "Birch", Source = "/devices/crew-1", AlertIds = [AlertId], Note = note };

    private static object Fact(string name)
    {
        var sent = Example.Event(name);
        var time = sent.GetProperty("time").GetDateTimeOffset();
        var number = sent.GetProperty(Envelope.RunningNumber).GetInt32();
        // Between them, the facts show every member of an origin: a wrong clock on one, a mended fact on another.
        var (isFast, isMended) = (name == "fleetlight.duct.laid.v1", name == "fleetlight.box.sealed.v1");
        var origin = new FactOrigin
        {
            Source = sent.GetProperty("source").GetString()!,
            Id = sent.GetProperty("id").GetString()!,
            RunningNumber = number,
            DeviceTime = time,
            HappenedAt = (isFast ? time.AddMinutes(-30) : time).ToUniversalTime(),
            RecordedAt = time.AddHours(3).AddMilliseconds(number).ToUniversalTime(),
            TimeDoubt = isFast ? TimeDoubt.ClockCorrected : null,
            ClockErrorSeconds = isFast ? 1800.4 : 0.3,
            Digest = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(number.ToString(CultureInfo.InvariantCulture) + sent))),
            MendedBy = isMended ? "0a1b2c3d4e5f" : null,
        };
        return Keep.Event(Guid.Empty, new RecordedFact(origin, Example.Fact(name))) is JasperFx.Events.IEvent kept
            ? kept.Data
            : throw new InvalidOperationException("A fact is kept as an event.");
    }

    private static Finding Open(string ends) => new()
    {
        Rule = "duct-left-open",
        Subject = new ThingRef(ThingKind.Duct, "d-steps"),
        Cause = "",
        Severity = AlertSeverity.Warning,
        Reason = $"Duct d-steps holds a cable and is not plugged ({ends}).",
        Remedy = "Plug both ends.",
        CircuitIds = ["c-steps"],
        Evidence = ["/devices/crew-1#3f0c5a05-71b4-4d2e-9a60-0c2f8e5d1a05"],
    };
}
