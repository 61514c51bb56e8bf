using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>What contradicts in the metal, the coats and the couplant.</summary>
internal static class MaterialRules
{
    public static void Check(Scene scene, List<ProcedureFinding> findings)
    {
        MaterialSection material = scene.Material;
        double velocity = SceneTimeBase.VelocityMetresPerSecond(material);
        if (velocity < 100)
            findings.Add(
                new ProcedureFinding(
                    "material.temperature",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"At {material.TemperatureCelsius:0.#} degC the velocity would be {velocity:0} m/s."
                    ),
                    "correct temperature or velocity_per_kelvin."
                )
            );
        // A longitudinal wave is at least sqrt(4/3) times as fast as a shear wave: the bulk modulus is positive.
        if (material.ShearVelocityMetresPerSecond * Math.Sqrt(4.0 / 3) >= material.VelocityMetresPerSecond)
            findings.Add(
                new ProcedureFinding(
                    "material.shear_velocity",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"A shear velocity of {material.ShearVelocityMetresPerSecond:0} m/s does not go with a longitudinal one of {material.VelocityMetresPerSecond:0} m/s: no solid has it."
                    ),
                    "correct one of the two; steel has about 3230 m/s and 5920 m/s."
                )
            );
        // tan(pi n / 2) has its poles at odd powers; at 1 the law is another one (a logarithm), above 1 it is not here.
        if (material.Dispersion && Math.Abs(material.AttenuationPower - 3) < 0.05)
            findings.Add(
                new ProcedureFinding(
                    "material.dispersion",
                    "The law of dispersion has a pole at an attenuation_power of 3.",
                    "give a power at least 0.05 from 3, or leave dispersion out."
                )
            );
        CouplingSection coupling = scene.Coupling;
        double metal = velocity * material.DensityKilogramsPerCubicMetre;
        double couplant = coupling.VelocityMetresPerSecond * coupling.DensityKilogramsPerCubicMetre;
        if (Math.Abs(metal - couplant) < 0.02 * metal)
            findings.Add(
                new ProcedureFinding(
                    "coupling.density",
                    "Couplant and metal have the same impedance, so there is no interface echo.",
                    "correct velocity and density of the couplant; water has 1480 m/s and 1000 kg/m3."
                )
            );
        if (!(coupling.ThicknessMetres > 0))
            findings.Add(
                new ProcedureFinding(
                    "coupling.thickness",
                    "There is no couplant: the interface echo would stand in the pulse.",
                    "write a thickness such as \"5 mm\"."
                )
            );
        double sway = coupling.WavinessMetres + 4 * coupling.JitterMetres - Math.Min(0, coupling.DriftMetres);
        if (coupling.ThicknessMetres > 0 && sway >= coupling.ThicknessMetres)
            findings.Add(
                new ProcedureFinding(
                    coupling.WavinessMetres >= coupling.ThicknessMetres ? "coupling.waviness" : "coupling.jitter",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Drift, waviness and jitter (4 sigma) take {sway * 1e3:0.###} mm from a couplant of {coupling.ThicknessMetres * 1e3:0.###} mm: its thickness would fall below zero."
                    ),
                    "make them smaller, or the couplant thicker."
                )
            );
    }
}
