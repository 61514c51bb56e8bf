namespace EchoToThickness.Picks;

/// <summary>An echo taken from a window, with its sub-sample instant. <c>default</c> is "none".</summary>
public record struct GatedEcho
{
    /// <summary>Whether there is one.</summary>
    public bool Found { get; set; }

    /// <summary>Its samples.</summary>
    public EchoRun Run { get; set; }

    /// <summary>Picked instant, seconds from the pulse.</summary>
    public double Seconds { get; set; }

    /// <summary>Sign of its highest sample; 0 when the signal has lost it.</summary>
    public int Polarity { get; set; }

    /// <summary>The signal was over the level at the first sample of the window already.</summary>
    public bool StartsOverLevel { get; set; }

    /// <summary>A saturated stretch touches it.</summary>
    public bool Saturated { get; set; }

    /// <summary>Amplitude of its highest sample, fraction of full scale; NaN when there is none.</summary>
    public readonly double AmplitudeFraction => Found ? Run.AmplitudeFraction : double.NaN;
}
