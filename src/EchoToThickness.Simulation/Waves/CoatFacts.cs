using EchoToThickness.Simulation.Fields;

namespace EchoToThickness.Simulation.Waves;

/// <summary>What coats and deposit of one cell mean for times and lengths of echoes.</summary>
internal readonly struct CoatFacts
{
    /// <summary>Rounds inside a coat that are kept at most.</summary>
    public const int MostRounds = 12;

    private const double WeakestRound = 1e-3;

    public CoatFacts(WaveModel model, CellView cell)
    {
        Paint = cell.Paint;
        Scale = cell.Scale;
        Deposit = cell.Deposit;
        IsBare = !(Paint.ThicknessMetres > 0 || Scale.ThicknessMetres > 0 || Deposit.ThicknessMetres > 0);
        if (IsBare)
            return;
        WaveSettings settings = model.Settings;
        FrontSeconds = Seconds(Paint) + Seconds(Scale);
        SpreadMetres = (Spread(Paint, settings) + Spread(Scale, settings));
        double longest = model.LongestRingSeconds;
        PaintRounds = Rounds(Paint, settings.CouplantImpedance, settings.Impedance, longest);
        ScaleRounds = Rounds(Scale, settings.CouplantImpedance, settings.Impedance, longest);
        DepositRounds = Rounds(Deposit, settings.Impedance, 0, longest);
        RingSeconds = Math.Min(
            model.LongestRingSeconds,
            2 * ((PaintRounds + 1) * Seconds(Paint) + (ScaleRounds + 1) * Seconds(Scale))
                + 2 * (DepositRounds + 1) * Seconds(Deposit)
        );
    }

    /// <summary>Outermost coat.</summary>
    public CoatHit Paint { get; }

    /// <summary>Coat under the paint.</summary>
    public CoatHit Scale { get; }

    /// <summary>Deposit behind the wall.</summary>
    public CoatHit Deposit { get; }

    /// <summary>No coat and no deposit.</summary>
    public bool IsBare { get; }

    /// <summary>Round trip through the coats.</summary>
    public double FrontSeconds { get; }

    /// <summary>Spreading distance of the coats as metres of metal.</summary>
    public double SpreadMetres { get; }

    /// <summary>How much longer than the pulse an echo is.</summary>
    public double RingSeconds { get; }

    /// <summary>Rounds kept in the paint.</summary>
    public int PaintRounds { get; }

    /// <summary>Rounds kept in the scale.</summary>
    public int ScaleRounds { get; }

    /// <summary>Rounds kept in the deposit.</summary>
    public int DepositRounds { get; }

    private static double Seconds(in CoatHit coat) =>
        coat.ThicknessMetres > 0 ? 2 * coat.ThicknessMetres / coat.VelocityMetresPerSecond : 0;

    private static double Spread(in CoatHit coat, WaveSettings settings) =>
        coat.ThicknessMetres > 0
            ? coat.ThicknessMetres * coat.VelocityMetresPerSecond / settings.VelocityMetresPerSecond
            : 0;

    /// <summary>As many as are stronger than a thousandth, or as fit into the longest ring.</summary>
    private static int Rounds(in CoatHit coat, double before, double behind, double longestSeconds)
    {
        if (!(coat.ThicknessMetres > 0))
            return 0;
        double impedance = coat.DensityKilogramsPerCubicMetre * coat.VelocityMetresPerSecond;
        double loss =
            Math.Abs(LayerSeries.Reflection(before, impedance) * LayerSeries.Reflection(impedance, behind))
            * Math.Pow(10, -coat.AttenuationDecibelsPerMetre * 2 * coat.ThicknessMetres / 20);
        int strong = loss <= 0 ? 0 : (int)Math.Min(MostRounds, Math.Log(WeakestRound) / Math.Log(Math.Min(loss, 0.99)));
        int fitting = (int)(longestSeconds / Seconds(coat)) - 1;
        return Math.Clamp(Math.Min(strong, fitting), 0, MostRounds);
    }
}
