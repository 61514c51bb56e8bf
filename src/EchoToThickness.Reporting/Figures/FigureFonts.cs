using ScottPlot;
using SkiaSharp;

namespace EchoToThickness.Reporting.Figures;

/// <summary>
/// The typeface of every figure: DejaVu Sans, shipped inside this assembly, so that figures have text (and the same text) on machines
/// without any font.
/// </summary>
public static class FigureFonts
{
    /// <summary>Name of the family.</summary>
    public const string Family = "DejaVu Sans";

    private static readonly Lazy<(SKTypeface Regular, SKTypeface Bold)> Faces = new(Register);

    /// <summary>The regular face.</summary>
    /// <exception cref="InvalidOperationException">The font inside the assembly cannot be read.</exception>
    public static SKTypeface Regular => Faces.Value.Regular;

    /// <summary>The bold face.</summary>
    /// <exception cref="InvalidOperationException">The font inside the assembly cannot be read.</exception>
    public static SKTypeface Bold => Faces.Value.Bold;

    private static (SKTypeface Regular, SKTypeface Bold) Register()
    {
        var faces = (Load("DejaVuSans.ttf"), Load("DejaVuSans-Bold.ttf"));
        ScottPlot.Fonts.FontResolvers.Insert(0, new Resolver(faces));
        ScottPlot.Fonts.Default = Family;
        return faces;
    }

    private static SKTypeface Load(string resource)
    {
        using Stream? stream = typeof(FigureFonts).Assembly.GetManifestResourceStream(resource);
        using SKData? data = stream is null ? null : SKData.Create(stream);
        return (data is null ? null : SKTypeface.FromData(data))
            ?? throw new InvalidOperationException($"The font {resource} inside the program cannot be read.");
    }

    private sealed class Resolver((SKTypeface Regular, SKTypeface Bold) faces) : IFontResolver
    {
        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            fontName == Family ? (weight >= FontWeight.SemiBold ? faces.Bold : faces.Regular) : null;

        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) =>
            fontName == Family ? (bold ? faces.Bold : faces.Regular) : null;
    }
}
