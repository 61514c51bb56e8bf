using PdfSharp.Fonts;

namespace EchoToThickness.Reporting.Documents;

/// <summary>Gives the PDF library the typeface inside this assembly, whatever the machine has installed.</summary>
internal sealed class PdfFonts : IFontResolver
{
    public const string Family = "DejaVu Sans";

    private static readonly Lock Gate = new();

    /// <summary>Registers the fonts; the library keeps one resolver for the whole process.</summary>
    public static void Use()
    {
        lock (Gate)
            GlobalFontSettings.FontResolver ??= new PdfFonts();
    }

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
        familyName == Family ? new FontResolverInfo(isBold ? "DejaVuSans-Bold.ttf" : "DejaVuSans.ttf") : null;

    public byte[]? GetFont(string faceName)
    {
        using Stream? stream = typeof(PdfFonts).Assembly.GetManifestResourceStream(faceName);
        if (stream is null)
            return null;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}
