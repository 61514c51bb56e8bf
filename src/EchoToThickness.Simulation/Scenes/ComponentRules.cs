using System.Globalization;
using EchoToThickness.Geometry;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Turns the section <c>[component]</c> into numbers and says what contradicts.</summary>
internal static class ComponentRules
{
    /// <summary>The component; null when a finding stops it.</summary>
    public static ComponentShape? Resolve(ComponentSection component, List<ProcedureFinding> findings)
    {
        int before = findings.Count;
        if (component.Shape == SceneShape.Plate)
            return Plate(component, findings, before);
        PipeSize? size = Size(component, findings);
        double outside = Outside(component, size, findings);
        double wall = Wall(component, size, findings);
        if (findings.Count == before && wall >= outside / 2)
            findings.Add(
                new ProcedureFinding(
                    "component.nominal_wall",
                    $"A wall of {Mm(wall)} fills a pipe of {Mm(outside)}.",
                    "give a wall smaller than the outside radius."
                )
            );
        double bend = double.PositiveInfinity;
        double length = component.LengthMetres;
        if (component.Shape == SceneShape.Elbow)
        {
            bend = Bend(component, size, findings);
            if (!(component.BendAngleRadians > 0) || component.BendAngleRadians > 2 * Math.PI)
                findings.Add(
                    new ProcedureFinding(
                        "component.bend_angle",
                        "The angle of the bend is not between 0 and 360 deg.",
                        "write an angle such as \"90 deg\"."
                    )
                );
            if (findings.Count == before && bend <= outside / 2)
                findings.Add(
                    new ProcedureFinding(
                        "component.bend_radius",
                        $"A bend radius of {Mm(bend)} is not larger than the outside radius of {Mm(outside / 2)}.",
                        "give a larger bend radius: the intrados would have no length."
                    )
                );
            length = bend * component.BendAngleRadians;
        }
        else if (!(length > 0))
        {
            findings.Add(Missing("component.length", "The pipe has no length.", "write length = \"500 mm\"."));
        }
        return findings.Count > before
            ? null
            : new ComponentShape(component.Shape, wall, outside / 2, bend, length, Math.PI * outside)
            {
                StraightEndsMetres = component.Shape == SceneShape.Elbow ? component.StraightEndsMetres : 0,
            };
    }

    private static ComponentShape? Plate(ComponentSection component, List<ProcedureFinding> findings, int before)
    {
        if (component.NominalPipeSize is not null)
            findings.Add(
                new ProcedureFinding(
                    "component.nps",
                    "A plate has no pipe size.",
                    "leave nps out, or scan a pipe or an elbow."
                )
            );
        if (component.Schedule is not null)
            findings.Add(
                new ProcedureFinding(
                    "component.schedule",
                    "A plate has no schedule.",
                    "leave it out and give nominal_wall."
                )
            );
        if (component.OutsideDiameterMetres is not null)
            findings.Add(
                new ProcedureFinding(
                    "component.outside_diameter",
                    "A plate has no diameter.",
                    "leave it out, or scan a pipe or an elbow."
                )
            );
        if (!(component.NominalWallMetres > 0))
            findings.Add(
                Missing("component.nominal_wall", "The plate has no wall.", "write nominal_wall = \"10 mm\".")
            );
        if (!(component.LengthMetres > 0))
            findings.Add(Missing("component.length", "The plate has no length.", "write length = \"200 mm\"."));
        if (!(component.WidthMetres > 0))
            findings.Add(Missing("component.width", "The plate has no width.", "write width = \"100 mm\"."));
        return findings.Count > before
            ? null
            : new ComponentShape(
                SceneShape.Plate,
                component.NominalWallMetres!.Value,
                double.PositiveInfinity,
                double.PositiveInfinity,
                component.LengthMetres,
                component.WidthMetres
            );
    }

    private static PipeSize? Size(ComponentSection component, List<ProcedureFinding> findings)
    {
        if (component.NominalPipeSize is not { } name)
            return null;
        if (component.OutsideDiameterMetres is not null)
            findings.Add(
                new ProcedureFinding(
                    "component.outside_diameter",
                    "The diameter is given twice, by nps and by outside_diameter.",
                    "leave one of them out."
                )
            );
        PipeSize? size = PipeSizes.Find(name);
        if (size is null)
            findings.Add(
                new ProcedureFinding(
                    "component.nps",
                    $"There is no pipe size \"{name}\" in the table.",
                    $"write one of {string.Join(", ", PipeSizes.All.Select(s => s.Name))}, or give outside_diameter and nominal_wall."
                )
            );
        return size;
    }

    private static double Outside(ComponentSection component, PipeSize? size, List<ProcedureFinding> findings)
    {
        if (size is not null)
            return size.OutsideDiameterMetres;
        if (component.OutsideDiameterMetres is { } outside and > 0)
            return outside;
        if (component.NominalPipeSize is null)
            findings.Add(
                Missing(
                    "component.outside_diameter",
                    "The pipe has no diameter.",
                    "write nps = \"6\", or outside_diameter = \"168.3 mm\"."
                )
            );
        return double.NaN;
    }

    private static double Wall(ComponentSection component, PipeSize? size, List<ProcedureFinding> findings)
    {
        if (component.Schedule is not { } schedule)
        {
            if (component.NominalWallMetres is { } wall and > 0)
                return wall;
            findings.Add(
                Missing(
                    "component.nominal_wall",
                    "The pipe has no wall.",
                    "write schedule = \"40\" (with nps), or nominal_wall = \"7.11 mm\"."
                )
            );
            return double.NaN;
        }
        if (component.NominalWallMetres is not null)
            findings.Add(
                new ProcedureFinding(
                    "component.nominal_wall",
                    "The wall is given twice, by schedule and by nominal_wall.",
                    "leave one of them out."
                )
            );
        if (component.NominalPipeSize is null)
            findings.Add(
                new ProcedureFinding(
                    "component.schedule",
                    "A schedule means nothing without a pipe size.",
                    "write nps = \"6\" too, or nominal_wall in place of schedule."
                )
            );
        if (size is null)
            return double.NaN;
        if (size.WallMetres(schedule) is { } found)
            return found;
        findings.Add(
            new ProcedureFinding(
                "component.schedule",
                $"There is no schedule \"{schedule}\" in the table for NPS {size.Name}.",
                $"write one of {string.Join(", ", PipeSizes.Schedules)}, or give nominal_wall."
            )
        );
        return double.NaN;
    }

    private static double Bend(ComponentSection component, PipeSize? size, List<ProcedureFinding> findings)
    {
        if (component.BendRadiusMetres is { } radius and > 0)
            return radius;
        if (size is not null)
            return component.Bend == BendKind.LongRadius ? size.LongRadiusMetres : size.ShortRadiusMetres;
        if (component.NominalPipeSize is null)
            findings.Add(
                Missing(
                    "component.bend_radius",
                    "The bend radius is not known: it follows from nps, and there is none.",
                    "write nps = \"6\", or bend_radius = \"228.6 mm\"."
                )
            );
        return double.NaN;
    }

    private static ProcedureFinding Missing(string key, string what, string remedy) => new(key, what, remedy);

    private static string Mm(double metres) => string.Create(CultureInfo.InvariantCulture, $"{metres * 1e3:0.###} mm");
}
