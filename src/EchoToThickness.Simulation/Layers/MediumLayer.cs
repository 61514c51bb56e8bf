namespace EchoToThickness.Simulation.Layers;

/// <summary>A flat layer.</summary>
/// <param name="Material">What it is made of.</param>
/// <param name="ThicknessMetres">How thick it is, metres; 0 leaves it out.</param>
public readonly record struct MediumLayer(LayerMaterial Material, double ThicknessMetres);
