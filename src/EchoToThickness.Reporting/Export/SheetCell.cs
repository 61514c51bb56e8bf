namespace EchoToThickness.Reporting.Export;

/// <summary>A cell of a sheet: a text, a number, or null for none; and the index of its format in <see cref="WorkbookStyles"/>.</summary>
internal readonly record struct SheetCell(object? Value, int Style = 0);
