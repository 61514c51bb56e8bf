using EchoToThickness.Procedures;

namespace EchoToThickness.Velocity;

/// <summary>
/// Velocities and densities at room temperature, each with its source. A table value is a start, not a calibration: steels of
/// one family differ by about 1 %, which is 0.1 mm on a 10 mm wall.
/// </summary>
public static class MaterialTable
{
    private const string Crc =
        "CRC Handbook of Chemistry and Physics, section 14, Speed of Sound in Various Media, table 1";
    private const string NdtHandbook =
        "Nondestructive Testing Handbook vol. 7, velocity table (secondary reproductions)";
    private const string KayeLaby =
        "Kaye and Laby, Tables of Physical and Chemical Constants, 16th ed. (1995), section 2.4";
    private const string Krautkraemer =
        "Krautkraemer and Krautkraemer, Ultrasonic Testing of Materials, 4th ed. (1990), material tables";
    private const string Wedge = "wedge-material literature, widely tabulated";
    private const string RockPhysics = "Mavko, Mukerji and Dvorkin, The Rock Physics Handbook, mineral table";
    private const string Plastics = "public table of acoustic properties of plastics";
    private const string EpoxyPaper = "Sci. Rep. 14 (2024), s41598-024-62268-9, table 1";

    /// <summary>All materials.</summary>
    public static IReadOnlyList<Material> All { get; } =
    [
        new()
        {
            Name = "steel",
            Description = "ferritic steel",
            Longitudinal = new(5920, 0.01, Krautkraemer, FromMemory: true),
            Shear = new(3255, 0.01, Krautkraemer, FromMemory: true),
            Density = new(7700, 0.01, Krautkraemer, FromMemory: true),
            IsCarbonSteel = true,
        },
        new()
        {
            Name = "mild-steel",
            Description = "mild steel",
            Longitudinal = new(5960, 0.01, KayeLaby, FromMemory: true),
            Shear = new(3235, 0.01, KayeLaby, FromMemory: true),
            Density = new(7850, 0.01, KayeLaby, FromMemory: true),
            IsCarbonSteel = true,
        },
        new()
        {
            Name = "steel-1020",
            Description = "carbon steel 1020",
            Longitudinal = new(5890, 0.01, NdtHandbook, FromMemory: false),
            IsCarbonSteel = true,
        },
        new()
        {
            Name = "steel-4340",
            Description = "low-alloy steel 4340",
            Longitudinal = new(5850, 0.01, NdtHandbook, FromMemory: false),
        },
        new()
        {
            Name = "stainless-302",
            Description = "austenitic stainless steel 302; also the nearest tabulated grade to 304",
            Longitudinal = new(5660, 0.02, NdtHandbook, FromMemory: false),
        },
        new()
        {
            Name = "stainless-347",
            Description = "austenitic stainless steel 347",
            Longitudinal = new(5740, 0.01, NdtHandbook, FromMemory: false),
        },
        new()
        {
            Name = "iron",
            Description = "Armco iron",
            Longitudinal = new(5960, 0.01, Crc, FromMemory: false),
            Shear = new(3240, 0.01, Crc, FromMemory: false),
            IsCarbonSteel = true,
        },
        new()
        {
            Name = "cast-iron",
            Description = "cast iron; varies strongly with graphite",
            Longitudinal = new(4994, 0.1, Crc, FromMemory: false),
            Shear = new(2809, 0.1, Crc, FromMemory: false),
        },
        new()
        {
            Name = "aluminium",
            Description = "aluminium, rolled",
            Longitudinal = new(6420, 0.01, Crc, FromMemory: false),
            Shear = new(3040, 0.01, Crc, FromMemory: false),
        },
        new()
        {
            Name = "copper",
            Description = "copper, rolled",
            Longitudinal = new(5010, 0.01, Crc, FromMemory: false),
            Shear = new(2270, 0.01, Crc, FromMemory: false),
        },
        new()
        {
            Name = "brass-70-30",
            Description = "brass 70Cu-30Zn; handbooks differ by 7 %",
            Longitudinal = new(4700, 0.07, Crc, FromMemory: false),
            Shear = new(2110, 0.07, Crc, FromMemory: false),
        },
        new()
        {
            Name = "acrylic",
            Description = "acrylic resin (PMMA)",
            Longitudinal = new(2670, 0.02, Plastics, FromMemory: false),
            Shear = new(1120, 0.02, Plastics, FromMemory: false),
            Density = new(1180, 0.02, Plastics, FromMemory: false),
        },
        new()
        {
            Name = "polystyrene",
            Description = "polystyrene",
            Longitudinal = new(2340, 0.02, NdtHandbook, FromMemory: false),
        },
        new()
        {
            Name = "cross-linked-polystyrene",
            Description = "cross-linked polystyrene, a wedge material",
            Longitudinal = new(2337, 0.01, Wedge, FromMemory: true),
            Shear = new(1157, 0.01, Wedge, FromMemory: true),
            Density = new(1050, 0.01, Wedge, FromMemory: true),
        },
        new()
        {
            Name = "epoxy",
            Description = "epoxy; ranges from about 2400 to 3000 m/s",
            Longitudinal = new(2770, 0.1, EpoxyPaper, FromMemory: false),
            Density = new(1140, 0.1, EpoxyPaper, FromMemory: false),
        },
        new()
        {
            Name = "magnetite",
            Description = "dense magnetite; service scale is porous and slower",
            Longitudinal = new(7380, 0.03, RockPhysics, FromMemory: true),
            Shear = new(4190, 0.03, RockPhysics, FromMemory: true),
            Density = new(5200, 0.03, RockPhysics, FromMemory: true),
        },
        new()
        {
            Name = "hematite",
            Description = "dense hematite",
            Longitudinal = new(6580, 0.03, RockPhysics, FromMemory: true),
            Shear = new(4510, 0.03, RockPhysics, FromMemory: true),
            Density = new(5240, 0.03, RockPhysics, FromMemory: true),
        },
    ];

    /// <summary>Finds a material by name.</summary>
    /// <param name="name">Name as in <see cref="All"/>, case-sensitive.</param>
    /// <exception cref="ProcedureException">No such material; names the nearest and all.</exception>
    public static Material Find(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        foreach (Material material in All)
            if (material.Name == name)
                return material;
        string? near = Suggestion.For(name, All.Select(m => m.Name));
        throw new ProcedureException(
            $"There is no material '{name}'.",
            "key velocity.material",
            (near is null ? "" : $"did you mean '{near}'? ")
                + "Known: "
                + string.Join(", ", All.Select(m => m.Name))
                + "; or give velocity.value."
        );
    }
}
