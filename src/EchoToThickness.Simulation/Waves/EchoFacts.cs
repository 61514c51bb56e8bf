namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// What the echo model put into an A-scan: plane-wave times and amplitudes at the pulse's centre frequency. An echo that is not there has a NaN time and
/// amplitude 0. Times are those of echo centres, before jitter of the instrument.
/// </summary>
public record struct EchoFacts
{
    /// <summary>Time of the interface echo (of the first coat, where there is one), seconds.</summary>
    public double InterfaceSeconds { get; set; }

    /// <summary>Its signed amplitude, fraction of full scale.</summary>
    public double InterfaceAmplitude { get; set; }

    /// <summary>Time of the surface of the metal under coats; equal to the interface without coats.</summary>
    public double MetalSeconds { get; set; }

    /// <summary>Time of the first back-wall echo on the beam axis.</summary>
    public double BackWallSeconds { get; set; }

    /// <summary>Signed amplitude of the first back-wall echo, with the loss of a rough or pitted wall.</summary>
    public double BackWallAmplitude { get; set; }

    /// <summary>Signed amplitude of the second back-wall echo.</summary>
    public double SecondBackWallAmplitude { get; set; }

    /// <summary>First back wall over that of a flat wall of the same thickness, modulus at the centre frequency: 1 for a flat wall.</summary>
    public double Coherence { get; set; }

    /// <summary>Time of the first multiple of the couplant.</summary>
    public double CouplantMultipleSeconds { get; set; }

    /// <summary>Signed amplitude of the first multiple of the couplant.</summary>
    public double CouplantMultipleAmplitude { get; set; }

    /// <summary>Time of the first echo of a lamination.</summary>
    public double LaminationSeconds { get; set; }

    /// <summary>Signed amplitude of the first echo of a lamination.</summary>
    public double LaminationAmplitude { get; set; }

    /// <summary>Time of the mode-converted echo (one leg longitudinal, one shear).</summary>
    public double ModeConvertedSeconds { get; set; }

    /// <summary>Signed amplitude of the mode-converted echo.</summary>
    public double ModeConvertedAmplitude { get; set; }

    /// <summary>Time of the echo of a side wall's corner.</summary>
    public double SideWallSeconds { get; set; }

    /// <summary>Signed amplitude of the echo of a side wall's corner.</summary>
    public double SideWallAmplitude { get; set; }

    /// <summary>No echo at all.</summary>
    public static EchoFacts None { get; } =
        new()
        {
            InterfaceSeconds = double.NaN,
            MetalSeconds = double.NaN,
            BackWallSeconds = double.NaN,
            CouplantMultipleSeconds = double.NaN,
            LaminationSeconds = double.NaN,
            ModeConvertedSeconds = double.NaN,
            SideWallSeconds = double.NaN,
            Coherence = 1,
        };
}
