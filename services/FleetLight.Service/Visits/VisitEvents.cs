using FleetLight.Record.Visits;
using Marten.Events;

namespace FleetLight.Service.Visits;

/// <summary>How visits stand in the store: one stream a visit, fixed names of events.</summary>
public static class VisitEvents
{
    /// <summary>What a device's source may not begin with: the streams here do.</summary>
    public const string Prefix = "visit:";

    /// <summary>Gives the events their stored names.</summary>
    public static void Map(IEventStoreOptions events)
    {
        events.MapEventType<VisitPlanned>("fleetlight.visit.planned.v1");
        events.MapEventType<VisitChanged>("fleetlight.visit.changed.v1");
        events.MapEventType<VisitDone>("fleetlight.visit.done.v1");
        events.MapEventType<VisitCalledOff>("fleetlight.visit.called-off.v1");
    }

    /// <summary>Stream of a visit.</summary>
    public static string StreamOf(string visitId) => Prefix + visitId;
}
