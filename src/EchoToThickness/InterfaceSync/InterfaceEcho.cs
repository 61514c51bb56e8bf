using EchoToThickness.Picks;

namespace EchoToThickness.InterfaceSync;

/// <summary>The interface echo of one A-scan, or one candidate for it. <c>default</c> is "none".</summary>
public record struct InterfaceEcho
{
    /// <summary>The echo; its time is the pick, before <c>interface.offset</c>. Not found when the time was supplied by neighbours.</summary>
    public GatedEcho Echo { get; set; }

    /// <summary>Reported time, seconds from the pulse: the pick (or the neighbours' time) plus <c>interface.offset</c>; NaN when there is no interface.</summary>
    public double ReportedSeconds { get; set; }

    /// <summary>How well it fits by its own evidence: 6 dB over the level are 1, held to 1; 1 more for the A-scan's own choice; 2 less for each sigma of noise under 6.</summary>
    public float Score { get; set; }

    /// <summary>Whether neighbours changed or supplied the time.</summary>
    public bool Tracked { get; set; }

    /// <summary>Whether there is a time to ride on.</summary>
    public readonly bool HasTime => !double.IsNaN(ReportedSeconds);

    /// <summary>No interface.</summary>
    public static InterfaceEcho None => new() { ReportedSeconds = double.NaN };
}
