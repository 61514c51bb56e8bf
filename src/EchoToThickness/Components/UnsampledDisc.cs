namespace EchoToThickness.Components;

/// <summary>A disc on the component that touches no measured cell and does not leave the component.</summary>
/// <param name="DiameterMetres">Diameter, metres of metal.</param>
/// <param name="Centre">Centre.</param>
public sealed record UnsampledDisc(double DiameterMetres, SurfacePlace Centre);
