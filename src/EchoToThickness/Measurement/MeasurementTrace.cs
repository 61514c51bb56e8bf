using EchoToThickness.Pairing;

namespace EchoToThickness.Measurement;

/// <summary>Every decision made about one A-scan, stage by stage, for people (<c>explain</c>). Times in seconds from the pulse.</summary>
public sealed class MeasurementTrace
{
    /// <summary>Scan position.</summary>
    public int Scan { get; set; }

    /// <summary>Beam.</summary>
    public int Beam { get; set; }

    /// <summary>Samples a second.</summary>
    public double SampleRateHz { get; set; }

    /// <summary>Time of sample 0.</summary>
    public double StartSeconds { get; set; }

    /// <summary>Shape [sample]: stored samples as a fraction of full scale.</summary>
    public float[] Raw { get; set; } = [];

    /// <summary>Shape [sample]: the conditioned signal that interface and gates look at, fraction of full scale.</summary>
    public float[] Signal { get; set; } = [];

    /// <summary>Shape [sample]: envelope of the conditioned signal; empty where no stage needed it.</summary>
    public float[] Envelope { get; set; } = [];

    /// <summary>Measured noise (standard deviation), fraction of full scale; NaN when not measured.</summary>
    public double NoiseFraction { get; set; } = double.NaN;

    /// <summary>Level over which the train rule lists candidate echoes, fraction of full scale; NaN for gates, which have levels of their own.</summary>
    public double CandidateLevelFraction { get; set; } = double.NaN;

    /// <summary>The interface decision.</summary>
    public InterfaceTrace Interface { get; set; } = new();

    /// <summary>The gates in order.</summary>
    public List<GateTrace> Gates { get; } = [];

    /// <summary>Candidate echoes in order of time.</summary>
    public List<EchoTrace> Echoes { get; } = [];

    /// <summary>Hypotheses about the wall, best first.</summary>
    public List<HypothesisTrace> Hypotheses { get; } = [];

    /// <summary>Decisions in words, in order: stage and sentence.</summary>
    public List<(string Stage, string Text)> Steps { get; } = [];

    /// <summary>The result.</summary>
    public CellResult Result { get; set; }

    /// <summary>Adds a sentence.</summary>
    /// <param name="stage">Stage name.</param>
    /// <param name="text">What was decided and why.</param>
    public void Say(string stage, string text) => Steps.Add((stage, text));
}
