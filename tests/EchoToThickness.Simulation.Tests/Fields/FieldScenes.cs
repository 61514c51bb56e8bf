using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Tests.Fields;

/// <summary>Small scenes for the tests of fields.</summary>
internal static class FieldScenes
{
    public static readonly ComponentSection Plate = new()
    {
        NominalWallMetres = 10e-3,
        LengthMetres = 0.2,
        WidthMetres = 0.2,
    };

    public static readonly ComponentSection Elbow6 = new()
    {
        Shape = SceneShape.Elbow,
        NominalPipeSize = "6",
        Schedule = "40",
    };

    public static Scene Of(ComponentSection component, WallSection wall, long seed = 1, double years = 0) =>
        new()
        {
            Header = new SceneHeader { Seed = seed },
            Component = component,
            Wall = wall,
            Survey = new SurveySection { Years = years },
        };

    public static WallField Wall(ComponentSection component, WallSection wall, long seed = 1, double years = 0) =>
        WallField.Compile(Of(component, wall, seed, years), ".");

    public static SceneLength Mm(double millimetres) => SceneLength.FromMetres(millimetres / 1000);

    public static SceneLength Degrees(double degrees) => SceneLength.FromRadians(degrees * Math.PI / 180);

    public static WallDepth DepthMm(double millimetres) => WallDepth.FromMetres(millimetres / 1000);

    public static float[] Sample(WallField field, SurfacePoint centre, double spacing, int side)
    {
        var values = new float[side * side];
        field.Sample(centre, spacing, spacing, side, side, values);
        return values;
    }

    /// <summary>Largest distance of an ascending sample from a distribution (Kolmogorov and Smirnov).</summary>
    public static double Distance(IEnumerable<double> sample, Func<double, double> distribution)
    {
        double[] sorted = [.. sample.Order()];
        double most = 0;
        for (int i = 0; i < sorted.Length; i++)
        {
            double p = distribution(sorted[i]);
            most = Math.Max(most, Math.Max((i + 1.0) / sorted.Length - p, p - (double)i / sorted.Length));
        }
        return most;
    }

    /// <summary>Critical distance at 1 %, asymptotic: 1.628/√n (Smirnov, Annals of Mathematical Statistics 19 (1948) 279).</summary>
    public static double Critical(int count) => 1.628 / Math.Sqrt(count);
}
