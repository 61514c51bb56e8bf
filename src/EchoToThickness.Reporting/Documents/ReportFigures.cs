namespace EchoToThickness.Reporting.Documents;

/// <summary>Figures as bytes: drawn into a folder of their own that is gone afterwards.</summary>
internal static class ReportFigures
{
    public static byte[] Png(Action<string> draw)
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("ett-report");
        try
        {
            string path = Path.Combine(folder.FullName, "figure.png");
            draw(path);
            return File.ReadAllBytes(path);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
