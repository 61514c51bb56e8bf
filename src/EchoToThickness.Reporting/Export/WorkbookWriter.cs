using System.IO.Compression;
using System.Text;
using EchoToThickness.Components;
using EchoToThickness.Statistics.Regions;

namespace EchoToThickness.Reporting.Export;

/// <summary>
/// Office Open XML workbook (ISO/IEC 29500): the map with cells coloured by wall (32 steps), regions, profiles. Written directly, without time stamps, so
/// that equal maps give equal bytes. A sheet holds 16 384 columns and 1 048 576 rows; a larger map is refused.
/// </summary>
internal static class WorkbookWriter
{
    private static readonly DateTimeOffset Epoch = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static void Write(StitchedMap map, RegionMap? regions, ExportFacts facts, Stream stream)
    {
        if (map.Raster.AroundCount >= 16_384 || map.Raster.AlongCount >= 1_048_575)
            throw new ComponentException(
                $"The map has {map.Raster.AlongCount} x {map.Raster.AroundCount} cells.",
                "workbook",
                "export it as .npy or .csv, or choose a coarser pitch in [stitch]; a sheet holds 16 383 columns."
            );
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
        string[] sheets = ["Map", "Regions", "Profiles", "Histogram", "About"];
        const string main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
        const string relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
        const string package = "http://schemas.openxmlformats.org/package/2006";
        Part(
            zip,
            "[Content_Types].xml",
            $"<Types xmlns=\"{package}/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Override PartName=\"/xl/workbook.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/><Override PartName=\"/xl/styles.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml\"/>"
                + string.Concat(
                    sheets.Select(
                        (_, k) =>
                            $"<Override PartName=\"/xl/worksheets/sheet{k + 1}.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml\"/>"
                    )
                )
                + "</Types>"
        );
        Part(
            zip,
            "_rels/.rels",
            $"<Relationships xmlns=\"{package}/relationships\"><Relationship Id=\"rId1\" Type=\"{relations}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"
        );
        Part(
            zip,
            "xl/workbook.xml",
            $"<workbook xmlns=\"{main}\" xmlns:r=\"{relations}\"><sheets>"
                + string.Concat(
                    sheets.Select((s, k) => $"<sheet name=\"{s}\" sheetId=\"{k + 1}\" r:id=\"rId{k + 1}\"/>")
                )
                + "</sheets></workbook>"
        );
        Part(
            zip,
            "xl/_rels/workbook.xml.rels",
            $"<Relationships xmlns=\"{package}/relationships\">"
                + string.Concat(
                    sheets.Select(
                        (_, k) =>
                            $"<Relationship Id=\"rId{k + 1}\" Type=\"{relations}/worksheet\" Target=\"worksheets/sheet{k + 1}.xml\"/>"
                    )
                )
                + $"<Relationship Id=\"rId9\" Type=\"{relations}/styles\" Target=\"styles.xml\"/></Relationships>"
        );
        Part(zip, "xl/styles.xml", WorkbookStyles.Part(main));
        Sheet(1, WorkbookRows.Map(map, regions?.Labels.ToArray()));
        Sheet(2, WorkbookRows.Regions(regions));
        Sheet(3, WorkbookRows.Profiles(map));
        Sheet(4, WorkbookRows.Histogram(map));
        Sheet(
            5,
            WorkbookRows.About(map, facts),
            "<cols><col min=\"1\" max=\"1\" width=\"24\" customWidth=\"1\"/></cols>"
        );

        void Sheet(int number, IEnumerable<IEnumerable<SheetCell>> rows, string columns = "")
        {
            using Stream part = Entry(zip, $"xl/worksheets/sheet{number}.xml").Open();
            SheetXml.Write(part, main, rows, columns);
        }
    }

    private static void Part(ZipArchive zip, string name, string content)
    {
        using Stream stream = Entry(zip, name).Open();
        stream.Write(Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>" + content));
    }

    private static ZipArchiveEntry Entry(ZipArchive zip, string name)
    {
        ZipArchiveEntry entry = zip.CreateEntry(name, CompressionLevel.Optimal);
        entry.LastWriteTime = Epoch;
        return entry;
    }
}
