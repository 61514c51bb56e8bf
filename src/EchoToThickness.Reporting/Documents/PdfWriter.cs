using PdfSharp.Pdf;

namespace EchoToThickness.Reporting.Documents;

/// <summary>
/// A report as PDF: A4 upright, fonts inside, headings as bookmarks, page numbers. The same report gives the same pages; only the times of making, the
/// identifier of the file and the prefixes of the embedded fonts' names, which the PDF library makes, differ from run to run. The file is not tagged:
/// for readers of screens the HTML is the better form.
/// </summary>
public static class PdfWriter
{
    /// <summary>Writes the report.</summary>
    /// <param name="document">The report.</param>
    /// <returns>The bytes of the file.</returns>
    public static byte[] Write(ReportDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        PdfFonts.Use();
        using var pdf = new PdfDocument();
        pdf.Info.Title = document.Title;
        pdf.Info.Subject = document.Subtitle;
        pdf.Info.Creator = document.Foot;
        pdf.Language = "en";
        pdf.PageLayout = PdfPageLayout.OneColumn;
        pdf.PageMode = PdfPageMode.UseOutlines;
        using (var flow = new PdfFlow(pdf))
        {
            flow.Title(document.Title, document.Subtitle);
            for (int k = 0; k < document.Blocks.Count; k++)
            {
                if (document.Blocks[k] is HeadingBlock)
                    flow.Need(Together(flow, document.Blocks, k));
                Add(flow, document.Blocks[k]);
            }
            flow.Feet(document.Foot);
        }
        using var stream = new MemoryStream();
        pdf.Save(stream, closeStream: false);
        return stream.ToArray();
    }

    /// <summary>What a heading must not be parted from: further headings, and what comes first after them.</summary>
    private static double Together(PdfFlow flow, IReadOnlyList<ReportBlock> blocks, int at)
    {
        double height = 0;
        for (; at < blocks.Count && blocks[at] is HeadingBlock heading; at++)
            height += heading.Level == 2 ? 42 : 26;
        return height
            + (at < blocks.Count ? blocks[at] : null) switch
            {
                FigureBlock figure => flow.HeightOf(figure.Png, figure.Caption),
                SignatureBlock signatures => 40 + 40 * signatures.Roles.Count,
                _ => 60,
            };
    }

    private static void Add(PdfFlow flow, ReportBlock block)
    {
        switch (block)
        {
            case HeadingBlock heading:
                flow.Heading(heading.Level, heading.Text);
                break;
            case ParagraphBlock paragraph:
                flow.Paragraph(paragraph.Text);
                break;
            case ListBlock list:
                flow.List(list.Items);
                break;
            case FactsBlock facts:
                PdfTable.Draw(
                    flow,
                    new TableBlock("", ["", ""], [.. facts.Facts.Select(f => (string[])[f.Name, f.Value])]),
                    PdfTable.Look.Facts
                );
                break;
            case TableBlock table:
                PdfTable.Draw(flow, table, PdfTable.Look.Table);
                break;
            case FigureBlock figure:
                flow.Figure(figure.Png, figure.Caption);
                break;
            case NoticeBlock notice:
                flow.Notice(notice.Title, notice.Items);
                break;
            case LiteralBlock literal:
                flow.Literal(literal.Text);
                break;
            case SignatureBlock signatures:
                PdfTable.Draw(
                    flow,
                    new TableBlock(
                        "To be signed",
                        ["Role", "Name", "Qualification", "Signature", "Date"],
                        [.. signatures.Roles.Select(r => (string[])[r, "", "", "", ""])]
                    ),
                    PdfTable.Look.Signatures
                );
                break;
            default:
                throw new ArgumentException($"A block {block.GetType().Name} has no form in PDF.", nameof(block));
        }
    }
}
