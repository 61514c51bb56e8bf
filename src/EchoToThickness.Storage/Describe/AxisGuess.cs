using EchoToThickness.Stacks;
using EchoToThickness.Stacks.Sanity;
using EchoToThickness.Storage.Foreign;

namespace EchoToThickness.Storage.Describe;

/// <summary>Finds the sample axis of an array: along it the energy rises out of silence; along the metal it is nearly even.</summary>
internal static class AxisGuess
{
    private const int LinesPerAxis = 64;
    private const int LongestLine = 8192;

    /// <summary>Standard deviation of the energy along every axis, decibels; 0 for axes shorter than eight.</summary>
    /// <param name="store">The array.</param>
    public static double[] Spread(IArrayStore store)
    {
        double[] spread = new double[store.Shape.Count];
        using IArrayReader reader = store.OpenReader();
        for (int axis = 0; axis < spread.Length; axis++)
            spread[axis] = store.Shape[axis] < 8 ? 0 : Spread(store, reader, axis);
        return spread;
    }

    private static double Spread(IArrayStore store, IArrayReader reader, int axis)
    {
        int rank = store.Shape.Count;
        int length = (int)Math.Min(store.Shape[axis], LongestLine);
        byte[] bytes = new byte[length * store.Type.SizeBytes()];
        double[] line = new double[length];
        double[] energy = new double[length];
        long[] start = new long[rank];
        int[] count = new int[rank];
        long others = 1;
        for (int i = 0; i < rank; i++)
            others *= i == axis ? 1 : store.Shape[i];
        for (int n = 0; n < LinesPerAxis; n++)
        {
            // Multiples of the golden ratio spread evenly over the other axes without falling in step with them.
            long place = (long)(n * 0.6180339887498949 % 1 * others);
            for (int i = rank - 1; i >= 0; i--)
            {
                count[i] = i == axis ? length : 1;
                start[i] = i == axis ? 0 : place % store.Shape[i];
                if (i != axis)
                    place /= store.Shape[i];
            }
            reader.Read(start, count, bytes);
            StoredCounts.ToCounts(bytes, store.Type, line);
            double mean = line.Where(double.IsFinite).DefaultIfEmpty().Average();
            for (int i = 0; i < length; i++)
                energy[i] += double.IsFinite(line[i]) ? (line[i] - mean) * (line[i] - mean) : 0;
        }
        double[] levels = [.. energy.Where(e => e > 0).Select(e => 10 * Math.Log10(e))];
        if (levels.Length < 8)
            return 0;
        double middle = levels.Average();
        return Math.Sqrt(levels.Average(l => (l - middle) * (l - middle)));
    }
}
