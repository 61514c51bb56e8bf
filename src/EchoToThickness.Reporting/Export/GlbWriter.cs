using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using System.Text.Json;
using EchoToThickness.Components;
using EchoToThickness.Reporting.Figures;

namespace EchoToThickness.Reporting.Export;

/// <summary>
/// glTF 2.0 binary (Khronos, ISO/IEC 12113): the outer surface, one quad of two triangles a cell, coloured by wall; cells without a wall are grey. Corners
/// are not shared, so that colours are not blended between cells. Maps of more than a million cells are coarsened; a quad then shows its thinnest cell.
/// </summary>
internal static class GlbWriter
{
    private static readonly int[] Corners = [0, 1, 2, 0, 2, 3];
    private const int MostQuads = 1_000_000;

    public static void Write(StitchedMap map, ExportFacts facts, Stream stream)
    {
        MapRaster raster = map.Raster;
        int step = 1;
        while ((long)((raster.AlongCount + step - 1) / step) * ((raster.AroundCount + step - 1) / step) > MostQuads)
            step++;
        double[] walls = [.. map.ThicknessMetres.Where(double.IsFinite)];
        double low = walls.Length > 0 ? walls.Min() : 0;
        double high = walls.Length > 0 ? walls.Max() : 1;
        var colours = new WallColours();
        var points = new List<float>();
        var paint = new List<byte>();
        for (int i = 0; i < raster.AlongCount; i += step)
        for (int j = 0; j < raster.AroundCount; j += step)
        {
            (int i1, int j1) = (Math.Min(raster.AlongCount, i + step), Math.Min(raster.AroundCount, j + step));
            double thinnest = double.NaN;
            for (int a = i; a < i1; a++)
            for (int b = j; b < j1; b++)
                if (!(map.ThicknessMetres[a * raster.AroundCount + b] >= thinnest))
                    thinnest = map.ThicknessMetres[a * raster.AroundCount + b];
            ScottPlot.Color colour = double.IsNaN(thinnest)
                ? ScottPlot.Color.FromHex("#9aa1ab")
                : colours.GetColor(high > low ? (thinnest - low) / (high - low) : 0.5);
            foreach ((int a, int b) in ((int, int)[])[(i, j), (i, j1), (i1, j1), (i1, j)])
            {
                (double x, double y, double z) = Corner(raster, a, b);
                points.AddRange([(float)x, (float)y, (float)z]);
                paint.AddRange([Linear(colour.R), Linear(colour.G), Linear(colour.B), 255]);
            }
        }
        var words = facts.Lines.ToDictionary(f => f.Name, f => f.Value);
        words["units"] = "points in m, as the format wants";
        words["colour_scale"] = string.Create(
            CultureInfo.InvariantCulture,
            $"light yellow {low * 1e3:0.###} mm to dark blue {high * 1e3:0.###} mm; grey: no wall"
        );
        Save(points, paint, JsonSerializer.Serialize(words), stream);
    }

    /// <summary>A corner of a cell in space.</summary>
    public static (double X, double Y, double Z) Corner(MapRaster raster, int along, int around) =>
        raster.Surface.PointAt(
            new SurfacePlace(
                raster.Surface.StartMetres + along * raster.AlongPitchMetres,
                around * raster.AroundPitchMetres
            )
        );

    /// <summary>Vertex colours of glTF are linear.</summary>
    private static byte Linear(byte channel)
    {
        double c = channel / 255.0;
        return (byte)Math.Round(255 * (c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4)));
    }

    private static void Save(List<float> points, List<byte> paint, string extras, Stream stream)
    {
        int vertices = points.Count / 3;
        int quads = vertices / 4;
        int pointBytes = points.Count * 4;
        int indexBytes = quads * 24;
        var data = new byte[pointBytes + paint.Count + indexBytes];
        float[] low = [float.MaxValue, float.MaxValue, float.MaxValue];
        float[] high = [float.MinValue, float.MinValue, float.MinValue];
        for (int k = 0; k < points.Count; k++)
        {
            BinaryPrimitives.WriteSingleLittleEndian(data.AsSpan(4 * k), points[k]);
            (low[k % 3], high[k % 3]) = (Math.Min(low[k % 3], points[k]), Math.Max(high[k % 3], points[k]));
        }
        paint.CopyTo(data, pointBytes);
        for (int q = 0; q < quads; q++)
        for (int k = 0; k < 6; k++)
            BinaryPrimitives.WriteInt32LittleEndian(
                data.AsSpan(pointBytes + paint.Count + 4 * (6 * q + k)),
                4 * q + Corners[k]
            );
        string Triple(float[] v) => string.Join(',', v.Select(f => f.ToString("R", CultureInfo.InvariantCulture)));
        string json = string.Create(
            CultureInfo.InvariantCulture,
            $$$$"""{"asset":{"version":"2.0","generator":"EchoToThickness","extras":{{{{extras}}}}},"scene":0,"scenes":[{"nodes":[0]}],"nodes":[{"mesh":0}],"materials":[{"doubleSided":true,"pbrMetallicRoughness":{"metallicFactor":0,"roughnessFactor":1}}],"meshes":[{"primitives":[{"attributes":{"POSITION":0,"COLOR_0":1},"indices":2,"material":0}]}],"buffers":[{"byteLength":{{{{data.Length}}}}}],"bufferViews":[{"buffer":0,"byteOffset":0,"byteLength":{{{{pointBytes}}}},"target":34962},{"buffer":0,"byteOffset":{{{{pointBytes}}}},"byteLength":{{{{paint.Count}}}},"target":34962},{"buffer":0,"byteOffset":{{{{pointBytes + paint.Count}}}},"byteLength":{{{{indexBytes}}}},"target":34963}],"accessors":[{"bufferView":0,"componentType":5126,"count":{{{{vertices}}}},"type":"VEC3","min":[{{{{Triple(low)}}}}],"max":[{{{{Triple(high)}}}}]},{"bufferView":1,"componentType":5121,"normalized":true,"count":{{{{vertices}}}},"type":"VEC4"},{"bufferView":2,"componentType":5125,"count":{{{{6 * quads}}}},"type":"SCALAR"}]}"""
        );
        byte[] text = Encoding.UTF8.GetBytes(json + new string(' ', (4 - Encoding.UTF8.GetByteCount(json) % 4) % 4));
        using var writer = new BinaryWriter(stream, Encoding.UTF8, leaveOpen: true);
        writer.Write(0x46546C67);
        writer.Write(2);
        writer.Write(12 + 8 + text.Length + 8 + data.Length);
        writer.Write(text.Length);
        writer.Write(0x4E4F534A);
        writer.Write(text);
        writer.Write(data.Length);
        writer.Write(0x004E4942);
        writer.Write(data);
    }
}
