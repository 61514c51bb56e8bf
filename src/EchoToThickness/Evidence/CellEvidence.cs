using System.Runtime.CompilerServices;

namespace EchoToThickness.Evidence;

/// <summary>
/// What one A-scan says by itself, in fixed size: interface, noise, candidate echoes. Rules that look at neighbours work on it and never
/// on samples.
/// </summary>
public struct CellEvidence
{
    /// <summary>Most echoes kept.</summary>
    public const int MaximumEchoes = 16;

    private EchoArray _echoes;

    /// <summary>Interface, seconds from the pulse; NaN when none.</summary>
    public double InterfaceSeconds;

    /// <summary>Interface amplitude, fraction of full scale.</summary>
    public double InterfaceAmplitudeFraction;

    /// <summary>Noise per quadrature, fraction of full scale.</summary>
    public double NoiseFraction;

    /// <summary>Level of the quietest part of the record, fraction of full scale.</summary>
    public double QuietFraction;

    /// <summary>Whether the interface is cut off at the rails.</summary>
    public bool InterfaceSaturated;

    /// <summary>Number of echoes.</summary>
    public int Count { get; private set; }

    /// <summary>An echo by index, in order of time.</summary>
    /// <param name="index">Index.</param>
    public readonly EchoEvidence this[int index] => _echoes[index];

    /// <summary>Adds an echo; beyond <see cref="MaximumEchoes"/> nothing is added.</summary>
    /// <param name="echo">The echo.</param>
    public void Add(EchoEvidence echo)
    {
        if (Count < MaximumEchoes)
            _echoes[Count++] = echo;
    }

    [InlineArray(MaximumEchoes)]
    private struct EchoArray
    {
        private EchoEvidence _first;
    }
}
