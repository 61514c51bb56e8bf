using System.Globalization;

namespace EchoToThickness.Studies.Validate;

/// <summary>Names of bands of wall.</summary>
internal static class Bands
{
    public static string NameOf(IReadOnlyList<double> edgesMetres, double wallMetres)
    {
        for (int i = 1; i < edgesMetres.Count; i++)
            if (wallMetres >= edgesMetres[i - 1] && wallMetres < edgesMetres[i])
                return string.Create(
                    CultureInfo.InvariantCulture,
                    $"{edgesMetres[i - 1] * 1e3:0.##} to {edgesMetres[i] * 1e3:0.##} mm"
                );
        return edgesMetres.Count < 2 ? "all" : "outside of the bands";
    }
}
