using EchoToThickness.Units;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Every fact a layout map can give, with its key, dimension and extent: the one list that checks and describes them.</summary>
internal static class LayoutFacts
{
    /// <summary>Over what a fact may vary.</summary>
    internal enum Extent
    {
        /// <summary>One value for the stack.</summary>
        Stack,

        /// <summary>One value, or one for each beam.</summary>
        StackOrBeams,

        /// <summary>One for each scan position.</summary>
        Scans,

        /// <summary>One for each beam.</summary>
        Beams,

        /// <summary>One for each sample.</summary>
        Samples,

        /// <summary>One for each cell.</summary>
        Cells,
    }

    /// <summary>One fact.</summary>
    internal readonly record struct Fact(string Key, ValueSource? Source, Dimension? Dimension, Extent Extent);

    /// <summary>All facts in the order of the reference page; the source is null where the map does not give the fact.</summary>
    public static IReadOnlyList<Fact> Of(LayoutMap map)
    {
        TimeLayout time = map.Time;
        AcquisitionLayout a = map.Acquisition;
        ComponentLayout c = map.Component;
        return
        [
            new("samples.present", map.Samples.Present, null, Extent.Cells),
            new("time.sample_rate", time.SampleRate, Dimension.Frequency, Extent.Stack),
            new("time.interval", time.Interval, Dimension.Time, Extent.Stack),
            new("time.axis", time.Axis, Dimension.Time, Extent.Samples),
            new("time.start", time.Start, Dimension.Time, Extent.StackOrBeams),
            new("positions.scan", map.Positions.Scan, Dimension.Length, Extent.Scans),
            new("positions.index", map.Positions.Index, Dimension.Length, Extent.Beams),
            new("acquisition.frequency", a.Frequency, Dimension.Frequency, Extent.Stack),
            new("acquisition.bandwidth", a.Bandwidth, Dimension.Fraction, Extent.Stack),
            new("acquisition.aperture", a.Aperture, Dimension.Length, Extent.Stack),
            new("acquisition.pitch", a.Pitch, Dimension.Length, Extent.Stack),
            new("acquisition.elements", a.Elements, null, Extent.Stack),
            new("acquisition.gain", a.Gain, Dimension.Decibel, Extent.Stack),
            new("acquisition.averages", a.Averages, null, Extent.Stack),
            new("acquisition.velocity", a.Velocity, Dimension.Velocity, Extent.Stack),
            new("acquisition.shear_velocity", a.ShearVelocity, Dimension.Velocity, Extent.Stack),
            new("acquisition.couplant_velocity", a.CouplantVelocity, Dimension.Velocity, Extent.Stack),
            new("acquisition.temperature", a.Temperature, Dimension.Temperature, Extent.Stack),
            new("component.outside_diameter", c.OutsideDiameter, Dimension.Length, Extent.Stack),
            new("component.nominal_wall", c.NominalWall, Dimension.Length, Extent.Stack),
            new("component.bend_radius", c.BendRadius, Dimension.Length, Extent.Stack),
            new("component.bend_angle", c.BendAngle, Dimension.Angle, Extent.Stack),
            .. map.Truth.Layers().Select(l => new Fact("truth." + l.Name, l.Source, Dimension.Length, Extent.Cells)),
        ];
    }
}
