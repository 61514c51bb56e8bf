using System.Globalization;
using System.Text;

namespace EchoToThickness.Reporting.Export;

/// <summary>A sheet as XML (ISO/IEC 29500-1, 18.3): first row and first column stay in view.</summary>
internal static class SheetXml
{
    public static void Write(Stream stream, string main, IEnumerable<IEnumerable<SheetCell>> rows, string columns = "")
    {
        using var writer = new StreamWriter(stream, new UTF8Encoding(false));
        writer.Write(
            $"<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?><worksheet xmlns=\"{main}\"><sheetViews><sheetView workbookViewId=\"0\"><pane xSplit=\"1\" ySplit=\"1\" topLeftCell=\"B2\" activePane=\"bottomRight\" state=\"frozen\"/></sheetView></sheetViews><sheetFormatPr defaultRowHeight=\"13\"/>{columns}<sheetData>"
        );
        int r = 0;
        foreach (IEnumerable<SheetCell> row in rows)
        {
            r++;
            writer.Write(string.Create(CultureInfo.InvariantCulture, $"<row r=\"{r}\">"));
            int c = 0;
            foreach (SheetCell cell in row)
            {
                (object? value, int style) = (cell.Value, cell.Style);
                string at = Column(c++) + r.ToString(CultureInfo.InvariantCulture);
                if (value is string text)
                    writer.Write(
                        $"<c r=\"{at}\" s=\"{style}\" t=\"inlineStr\"><is><t>{System.Security.SecurityElement.Escape(text)}</t></is></c>"
                    );
                else if (value is double real && !double.IsFinite(real) || value is null)
                    writer.Write(style == 0 ? "" : $"<c r=\"{at}\" s=\"{style}\"/>");
                else
                    writer.Write(
                        $"<c r=\"{at}\" s=\"{style}\"><v>{Convert.ToDouble(value, CultureInfo.InvariantCulture).ToString("R", CultureInfo.InvariantCulture)}</v></c>"
                    );
            }
            writer.Write("</row>");
        }
        writer.Write("</sheetData></worksheet>");
    }

    private static string Column(int index)
    {
        string name = "";
        for (int k = index + 1; k > 0; k = (k - 1) / 26)
            name = (char)('A' + (k - 1) % 26) + name;
        return name;
    }
}
