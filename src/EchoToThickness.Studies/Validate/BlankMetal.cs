namespace EchoToThickness.Studies.Validate;

/// <summary>What one scan shows on metal without features.</summary>
/// <param name="Scan">The scan.</param>
/// <param name="AreaSquareMetres">Blank area scanned, square metres.</param>
/// <param name="FalseCalls">Indications on it.</param>
public sealed record BlankMetal(PlacedScan Scan, double AreaSquareMetres, int FalseCalls);
