using System.Runtime.InteropServices;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Moves elements from any axis order to <c>[scan, beam, sample]</c>, in tiles so that both sides stay in cache.</summary>
internal static class SamplePermutation
{
    private const int Tile = 32;

    /// <summary>Copies with strides in elements; a negative stride runs an axis backwards from <paramref name="origin"/>.</summary>
    /// <param name="source">Elements as stored.</param>
    /// <param name="destination">Shape [scan, beam, sample].</param>
    /// <param name="elementBytes">1, 2, 4 or 8.</param>
    /// <param name="origin">Element of the source that becomes [0, 0, 0].</param>
    /// <param name="scans">Extent, and stride in the source.</param>
    /// <param name="beams">Extent, and stride in the source.</param>
    /// <param name="samples">Extent, and stride in the source.</param>
    public static void Copy(
        ReadOnlySpan<byte> source,
        Span<byte> destination,
        int elementBytes,
        long origin,
        (int Count, long Stride) scans,
        (int Count, long Stride) beams,
        (int Count, long Stride) samples
    )
    {
        switch (elementBytes)
        {
            case 1:
                Copy<byte>(source, destination, origin, scans, beams, samples);
                break;
            case 2:
                Copy<ushort>(source, destination, origin, scans, beams, samples);
                break;
            case 4:
                Copy<uint>(source, destination, origin, scans, beams, samples);
                break;
            default:
                Copy<ulong>(source, destination, origin, scans, beams, samples);
                break;
        }
    }

    private static void Copy<T>(
        ReadOnlySpan<byte> sourceBytes,
        Span<byte> destinationBytes,
        long origin,
        (int Count, long Stride) scans,
        (int Count, long Stride) beams,
        (int Count, long Stride) samples
    )
        where T : unmanaged
    {
        ReadOnlySpan<T> source = MemoryMarshal.Cast<byte, T>(sourceBytes);
        Span<T> destination = MemoryMarshal.Cast<byte, T>(destinationBytes);
        // Tile over samples and the faster of the two other axes; the slower one is the outer loop.
        bool beamIsFast = Math.Abs(beams.Stride) <= Math.Abs(scans.Stride) || scans.Count == 1;
        (int Count, long Stride) fast = beamIsFast ? beams : scans;
        (int Count, long Stride) slow = beamIsFast ? scans : beams;
        long fastStep = beamIsFast ? samples.Count : (long)beams.Count * samples.Count;
        long slowStep = beamIsFast ? (long)beams.Count * samples.Count : samples.Count;
        for (int outer = 0; outer < slow.Count; outer++)
        {
            long from = origin + outer * slow.Stride;
            long to = outer * slowStep;
            if (samples.Stride == 1)
            {
                for (int f = 0; f < fast.Count; f++)
                {
                    source
                        .Slice((int)(from + f * fast.Stride), samples.Count)
                        .CopyTo(destination.Slice((int)(to + f * fastStep), samples.Count));
                }
                continue;
            }
            for (int f0 = 0; f0 < fast.Count; f0 += Tile)
            {
                int f1 = Math.Min(f0 + Tile, fast.Count);
                for (int s0 = 0; s0 < samples.Count; s0 += Tile)
                {
                    int s1 = Math.Min(s0 + Tile, samples.Count);
                    for (int f = f0; f < f1; f++)
                    {
                        long read = from + f * fast.Stride + s0 * samples.Stride;
                        int write = (int)(to + f * fastStep) + s0;
                        for (int s = s0; s < s1; s++, read += samples.Stride)
                            destination[write++] = source[(int)read];
                    }
                }
            }
        }
    }
}
