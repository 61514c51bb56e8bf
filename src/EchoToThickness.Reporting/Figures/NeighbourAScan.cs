namespace EchoToThickness.Reporting.Figures;

/// <summary>One A-scan of the neighbourhood picture. Times in seconds from the pulse; NaN where nothing was picked.</summary>
/// <param name="Beam">Beam.</param>
/// <param name="Signal">Shape [sample]: signal, fraction of full scale; same time base as the explained A-scan. Empty where no A-scan was stored.</param>
/// <param name="InterfaceSeconds">Interface echo.</param>
/// <param name="FirstEchoSeconds">Earlier back-wall echo of the pair.</param>
/// <param name="SecondEchoSeconds">Later back-wall echo of the pair.</param>
public sealed record NeighbourAScan(
    int Beam,
    float[] Signal,
    double InterfaceSeconds,
    double FirstEchoSeconds,
    double SecondEchoSeconds
);
