using EchoToThickness.Signals;

namespace EchoToThickness.Studies.Resampling;

/// <summary>How often each cluster is drawn in one bootstrap resample: as many draws with replacement as there are clusters.</summary>
/// <remarks>
/// Efron (Annals of Statistics 7, 1979), on whole clusters where cells of one feature are not independent (Davison and Hinkley,
/// Bootstrap Methods and their Application, 1997, section 3.8, first strategy). Numbers come from a counter, so that any order of
/// evaluation gives the same resamples.
/// </remarks>
public static class ClusterWeights
{
    /// <summary>Draws one resample.</summary>
    /// <param name="seed">Seed of the study, mixed with what is resampled.</param>
    /// <param name="replicate">Number of the resample.</param>
    /// <param name="counts">Shape [cluster]; overwritten with how often each was drawn. The sum is its length.</param>
    public static void Draw(ulong seed, int replicate, Span<ushort> counts)
    {
        counts.Clear();
        ulong key = SplitMix64.Mix(seed + SplitMix64.Mix((ulong)replicate + SplitMix64.Increment));
        var clusters = (ulong)counts.Length;
        for (int i = 0; i < counts.Length; i++)
        {
            ulong bits = SplitMix64.Mix(key + ((ulong)i + 1) * SplitMix64.Increment);
            counts[(int)Math.BigMul(bits, clusters, out _)]++;
        }
    }
}
