namespace EchoToThickness.Simulation.Plans;

/// <summary>One scan line.</summary>
/// <param name="PlaceMetres">Array centre across the line: around for lines along, along for lines around.</param>
/// <param name="OriginMetres">Lines along: length on the encoder's track, from the start of the bend, at which it reads 0.</param>
/// <param name="EncoderStretch">Lines along: metres on the encoder's track for each metre of the bend's centre line.</param>
/// <param name="FirstStep">First scan position in units of the pitch; negative where positions of both signs are counted.</param>
/// <param name="Scans">Number of scan positions.</param>
internal readonly record struct LinePlan(
    double PlaceMetres,
    double OriginMetres,
    double EncoderStretch,
    int FirstStep,
    int Scans
);
