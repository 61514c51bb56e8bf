namespace EchoToThickness.Reporting.Figures;

/// <summary>Units of the sheet for one unit of each axis, so that dashes have the same length in every direction.</summary>
/// <param name="X">Along the horizontal axis.</param>
/// <param name="Y">Along the vertical axis.</param>
internal readonly record struct DashScale(double X, double Y);
