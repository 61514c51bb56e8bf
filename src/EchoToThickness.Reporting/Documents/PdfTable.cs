using PdfSharp.Drawing;

namespace EchoToThickness.Reporting.Documents;

/// <summary>A table over pages: columns as wide as their content asks for, the head again on every page.</summary>
internal static class PdfTable
{
    public enum Look
    {
        Facts,
        Table,
        Signatures,
    }

    private const double Gap = 6;

    public static void Draw(PdfFlow flow, TableBlock table, Look look)
    {
        double size =
            look == Look.Facts
                ? 8.6
                : table.Columns.Count switch
                {
                    > 11 => 5.2,
                    > 8 => 5.8,
                    > 6 => 6.8,
                    _ => 7.6,
                };
        double line = size * 1.36;
        XFont plain = flow.Font(size);
        XFont bold = flow.Font(size, true);
        flow.Need(60);
        double[] widths = look switch
        {
            Look.Signatures =>
            [
                0.16 * PdfFlow.Width,
                0.26 * PdfFlow.Width,
                0.22 * PdfFlow.Width,
                0.22 * PdfFlow.Width,
                0.14 * PdfFlow.Width,
            ],
            Look.Facts => [0.28 * PdfFlow.Width, 0.72 * PdfFlow.Width],
            _ => Widths(flow, table, plain, bold),
        };
        if (look == Look.Signatures)
            flow.Need(30 + table.Rows.Count * 40);
        if (table.Caption.Length > 0)
        {
            flow.Y += 4;
            flow.Lines(table.Caption, flow.Font(8.4, true), PdfFlow.Ink, PdfFlow.Left, PdfFlow.Width, 12);
        }
        if (look != Look.Facts)
            Row(table.Columns, bold, head: true);
        foreach (IReadOnlyList<string> row in table.Rows)
            Row(row, plain, head: false);
        flow.Y += 7;

        void Row(IReadOnlyList<string> cells, XFont font, bool head)
        {
            string[][] lines = [.. cells.Select((c, k) => flow.Wrap(c, font, widths[k] - Gap))];
            int tallest = lines.Max(l => l.Length);
            double height = Math.Max(tallest * line + 3.5, look == Look.Signatures && !head ? 38 : 0);
            // A row taller than a page is cut at its lines; every other one stays whole.
            int from = 0;
            while (true)
            {
                int fit = tallest - from;
                if ((fit * line + 3.5) > flow.Room || height > flow.Room && from == 0)
                {
                    if (height < 600 || flow.Room < 60)
                        Turn();
                    fit = Math.Min(fit, (int)((flow.Room - 4) / line));
                }
                Part(lines, font, head, from, fit, from + fit >= tallest ? height - from * line : fit * line + 3.5);
                from += fit;
                if (from >= tallest)
                    return;
            }
        }

        void Turn()
        {
            flow.NewPage();
            if (look == Look.Table)
            {
                string[][] head = [.. table.Columns.Select((c, k) => flow.Wrap(c, bold, widths[k] - Gap))];
                int tallest = head.Max(l => l.Length);
                Part(head, bold, true, 0, tallest, tallest * line + 3.5);
            }
        }

        void Part(string[][] lines, XFont font, bool head, int from, int count, double height)
        {
            XGraphics page = flow.Page;
            if (head)
                page.DrawRectangle(new XSolidBrush(PdfFlow.Band), PdfFlow.Left, flow.Y, PdfFlow.Width, height);
            double x = PdfFlow.Left;
            for (int k = 0; k < lines.Length; k++)
            {
                double y = flow.Y + (look == Look.Signatures && !head ? height - line - 3 : 0);
                foreach (string text in lines[k].Skip(from).Take(count))
                {
                    page.DrawString(
                        text,
                        font,
                        new XSolidBrush(look == Look.Facts && k == 0 ? PdfFlow.Quiet : PdfFlow.Ink),
                        x + 2,
                        y + size * 1.12
                    );
                    y += line;
                }
                x += widths[k];
            }
            flow.Y += height;
            if (look != Look.Facts)
                page.DrawLine(
                    new XPen(look == Look.Signatures ? PdfFlow.Ink : PdfFlow.Rule, 0.5),
                    PdfFlow.Left,
                    flow.Y - 1,
                    PdfFlow.Left + PdfFlow.Width,
                    flow.Y - 1
                );
        }
    }

    /// <summary>No column narrower than its longest word (up to a share), the rest by how much text a column holds.</summary>
    private static double[] Widths(PdfFlow flow, TableBlock table, XFont plain, XFont bold)
    {
        int count = table.Columns.Count;
        var least = new double[count];
        var whole = new double[count];
        for (int c = 0; c < count; c++)
        {
            Look(table.Columns[c], bold);
            foreach (IReadOnlyList<string> row in table.Rows.Take(200))
                Look(row[c], plain);

            void Look(string text, XFont font)
            {
                whole[c] = Math.Max(whole[c], flow.WidthOf(text, font) + Gap);
                foreach (string word in text.Split(' '))
                    least[c] = Math.Max(least[c], flow.WidthOf(word, font) + Gap);
            }
            least[c] = Math.Min(least[c], PdfFlow.Width * Math.Max(0.16, 1.0 / count));
        }
        double room = PdfFlow.Width;
        if (whole.Sum() <= room)
            return [.. whole.Select(w => w + (room - whole.Sum()) / count)];
        double needed = least.Sum();
        if (needed >= room)
            return [.. least.Select(w => w * room / needed)];
        // What is left is shared by what each column still asks for, long ones less than in proportion.
        double[] asks = [.. whole.Zip(least, (w, l) => Math.Sqrt(Math.Max(0, w - l)))];
        double asked = Math.Max(asks.Sum(), 1e-9);
        return [.. least.Zip(asks, (l, a) => l + a / asked * (room - needed))];
    }
}
