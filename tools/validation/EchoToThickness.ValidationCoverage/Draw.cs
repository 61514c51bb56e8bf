using System.Globalization;
using EchoToThickness.Validation;

namespace EchoToThickness.ValidationCoverage;

/// <summary>Random data, apart from the generator of the library.</summary>
internal sealed class Draw(int seed)
{
    private readonly Random _random = new(seed);

    public double Uniform() => _random.NextDouble();

    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Uniform())) * Math.Cos(2 * Math.PI * Uniform());

    public double[] Normals(int count) => Enumerable.Range(0, count).Select(_ => Normal()).ToArray();

    /// <summary>Values of one random factor.</summary>
    public ClusteredSample Clusters(int[] sizes, double between, double within, double mean = 0)
    {
        var values = new List<double>();
        var names = new List<string>();
        for (int g = 0; g < sizes.Length; g++)
        {
            double shift = mean + between * Normal();
            for (int i = 0; i < sizes[g]; i++)
            {
                values.Add(shift + within * Normal());
                names.Add(Name(g));
            }
        }
        return new ClusteredSample(values.ToArray(), new Factor("cluster", names));
    }

    public static string Name(int k) => k.ToString(CultureInfo.InvariantCulture);

    public static int[] Equal(int clusters, int size) => Enumerable.Repeat(size, clusters).ToArray();
}
