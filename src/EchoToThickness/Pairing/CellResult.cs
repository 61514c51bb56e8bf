namespace EchoToThickness.Pairing;

/// <summary>Everything decided about one cell. Times in seconds from the pulse, lengths in metres; NaN with a status, never alone.</summary>
public struct CellResult
{
    /// <summary>Value of <see cref="PairedOrders"/> when nothing was paired.</summary>
    public const byte NoPair = 0xFF;

    /// <summary>What became of the cell.</summary>
    public CellStatus Status;

    /// <summary>What a reviewer should know.</summary>
    public CellNotes Notes;

    /// <summary>Order of the earlier echo + 16 × order of the later; 0 = interface.</summary>
    public byte PairedOrders;

    /// <summary>Back-wall echoes that support the wall.</summary>
    public byte EchoCount;

    /// <summary>Wall, metres.</summary>
    public double ThicknessMetres;

    /// <summary>Combined standard uncertainty, metres.</summary>
    public double UncertaintyMetres;

    /// <summary>Noise part, metres.</summary>
    public double UncertaintyNoiseMetres;

    /// <summary>Calibration part, metres.</summary>
    public double UncertaintyCalibrationMetres;

    /// <summary>Interface echo, seconds from the pulse.</summary>
    public double InterfaceSeconds;

    /// <summary>Back-wall echo 1 (or the earlier echo of the pair), seconds from the pulse.</summary>
    public double FirstEchoSeconds;

    /// <summary>Back-wall echo 2 (or the later echo of the pair), seconds from the pulse.</summary>
    public double SecondEchoSeconds;

    /// <summary>Interface amplitude, fraction of full scale.</summary>
    public double InterfaceAmplitudeFraction;

    /// <summary>Amplitude of back-wall echo 1, fraction of full scale.</summary>
    public double FirstEchoAmplitudeFraction;

    /// <summary>Amplitude of back-wall echo 2, fraction of full scale.</summary>
    public double SecondEchoAmplitudeFraction;

    /// <summary>Wall from interface to back wall 1, metres.</summary>
    public double ThicknessInterfaceWallMetres;

    /// <summary>Wall from back wall 1 to back wall 2, metres.</summary>
    public double ThicknessWallWallMetres;

    /// <summary>Depth of a laminar reflector, metres.</summary>
    public double ReflectorDepthMetres;

    /// <summary>Peak-to-noise ratio of the weakest echo the wall rests on, decibels.</summary>
    public double SignalToNoiseDecibels;

    /// <summary>Distance to the runner-up, 0 a tie, 1 no rival.</summary>
    public double Margin;

    /// <summary>Wall of the runner-up, metres.</summary>
    public double RunnerUpThicknessMetres;

    /// <summary>Probability that the echo is the wrong one; NaN where nobody asked or nothing was measured.</summary>
    public double WrongEchoProbability;

    /// <summary>A result in which nothing was measured.</summary>
    /// <param name="status">Why not.</param>
    public static CellResult Unmeasured(CellStatus status) =>
        new()
        {
            Status = status,
            PairedOrders = NoPair,
            ThicknessMetres = double.NaN,
            UncertaintyMetres = double.NaN,
            UncertaintyNoiseMetres = double.NaN,
            UncertaintyCalibrationMetres = double.NaN,
            InterfaceSeconds = double.NaN,
            FirstEchoSeconds = double.NaN,
            SecondEchoSeconds = double.NaN,
            InterfaceAmplitudeFraction = double.NaN,
            FirstEchoAmplitudeFraction = double.NaN,
            SecondEchoAmplitudeFraction = double.NaN,
            ThicknessInterfaceWallMetres = double.NaN,
            ThicknessWallWallMetres = double.NaN,
            ReflectorDepthMetres = double.NaN,
            SignalToNoiseDecibels = double.NaN,
            Margin = double.NaN,
            RunnerUpThicknessMetres = double.NaN,
            WrongEchoProbability = double.NaN,
        };
}
