namespace EchoToThickness.Validation.Planning;

/// <summary>Size of a nested study.</summary>
/// <param name="Blocks">Blocks.</param>
/// <param name="FeaturesPerBlock">Features (steps, pits) in each block.</param>
/// <param name="PlacementsPerFeature">Times each is scanned anew.</param>
/// <param name="ReadingsPerPlacement">Readings of each placement.</param>
public sealed record NestedDesign(int Blocks, int FeaturesPerBlock, int PlacementsPerFeature, int ReadingsPerPlacement);
