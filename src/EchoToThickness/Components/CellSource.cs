namespace EchoToThickness.Components;

/// <summary>The measured cell that a cell of the map came from.</summary>
/// <param name="Line">Name of the line.</param>
/// <param name="Scan">Scan position, counted from 0.</param>
/// <param name="Beam">Beam, counted from 0.</param>
public sealed record CellSource(string Line, int Scan, int Beam);
