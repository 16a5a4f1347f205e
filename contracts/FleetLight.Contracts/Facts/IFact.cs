using System.Text.Json.Serialization;

namespace FleetLight.Contracts.Facts;

/// <summary>Something that happened on a site and was recorded by the one who did or saw it.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "factType")]
[JsonDerivedType(typeof(BoxSealed), "fleetlight.box.sealed.v1")]
[JsonDerivedType(typeof(CableLabelled), "fleetlight.cable.labelled.v1")]
[JsonDerivedType(typeof(CablePulled), "fleetlight.cable.pulled.v1")]
[JsonDerivedType(typeof(CircuitDesigned), "fleetlight.circuit.designed.v1")]
[JsonDerivedType(typeof(CircuitEnergised), "fleetlight.circuit.energised.v1")]
[JsonDerivedType(typeof(CircuitHandedOver), "fleetlight.circuit.handed-over.v1")]
[JsonDerivedType(typeof(CoreSleeved), "fleetlight.core.sleeved.v1")]
[JsonDerivedType(typeof(DriverConnected), "fleetlight.driver.connected.v1")]
[JsonDerivedType(typeof(DuctLabelled), "fleetlight.duct.labelled.v1")]
[JsonDerivedType(typeof(DuctLaid), "fleetlight.duct.laid.v1")]
[JsonDerivedType(typeof(DuctPlugged), "fleetlight.duct.plugged.v1")]
[JsonDerivedType(typeof(FactCorrected), "fleetlight.fact.corrected.v1")]
[JsonDerivedType(typeof(FaultReported), "fleetlight.fault.reported.v1")]
[JsonDerivedType(typeof(FittingFixed), "fleetlight.fitting.fixed.v1")]
[JsonDerivedType(typeof(JointMade), "fleetlight.joint.made.v1")]
[JsonDerivedType(typeof(PhotoTaken), "fleetlight.photo.taken.v1")]
[JsonDerivedType(typeof(PlaceMeasured), "fleetlight.place.measured.v1")]
[JsonDerivedType(typeof(ReadingTaken), "fleetlight.reading.taken.v1")]
[JsonDerivedType(typeof(ReferencePointRecorded), "fleetlight.reference-point.recorded.v1")]
[JsonDerivedType(typeof(RepairMade), "fleetlight.repair.made.v1")]
[JsonDerivedType(typeof(SiteOpened), "fleetlight.site.opened.v1")]
[JsonDerivedType(typeof(StringLeft), "fleetlight.string.left.v1")]
[JsonDerivedType(typeof(TestMade), "fleetlight.test.made.v1")]
[JsonDerivedType(typeof(ThingsJoined), "fleetlight.things.joined.v1")]
public interface IFact
{
    /// <summary>The site it happened on.</summary>
    string SiteId { get; }
}
