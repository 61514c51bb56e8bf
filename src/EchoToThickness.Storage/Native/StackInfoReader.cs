using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>Reads and checks everything about a line but its samples.</summary>
internal static class StackInfoReader
{
    public static StackInfo Read(Hdf5File file, string path, string name, Hdf5Dataset ascans)
    {
        SampleType type =
            ascans.Type.SampleType
            ?? throw new StackFormatException(
                $"The samples are stored as {ascans.Type.Describe()}.",
                file.Path,
                ascans.Path,
                "store them as int8, uint8, int16, uint16, float32 or float64."
            );
        StackShape shape = Shape(file, ascans, type);
        FactReader facts = new(file, path);
        AmplitudeScale implied = AmplitudeScale.For(type);
        return new StackInfo
        {
            Name = name,
            Shape = shape,
            SampleType = type,
            TimeBase = new TimeBase
            {
                SampleRateHz = facts.Required("sample_rate", "Hz", true, "time base"),
                StartSeconds = facts.Number("start_time", "s", false) ?? 0,
                BeamStartSeconds = Axis(file, $"{path}/{StackLayout.BeamStartTime}", shape.Beams, "s"),
            },
            Amplitude = new AmplitudeScale(
                facts.Number("full_scale", "counts", true) ?? implied.FullScaleCounts,
                facts.Number("zero_level", "counts", false) ?? implied.ZeroCounts,
                facts.Number("lower_rail", "counts", false) ?? double.NaN,
                facts.Number("upper_rail", "counts", false) ?? double.NaN
            ),
            Acquisition = Acquisition(facts),
            Component = Component(facts),
            Placement = Placement(facts),
            Neighbours = facts.Word("neighbours", StackLayout.Neighbours, NeighbourAxes.Both),
            ScanPositionsMetres = Positions(
                file,
                $"{path}/{StackLayout.ScanPosition}",
                shape.Scans,
                PositionRules.Monotonic
            ),
            IndexPositionsMetres = Positions(
                file,
                $"{path}/{StackLayout.IndexPosition}",
                shape.Beams,
                PositionRules.Distinct
            ),
        };
    }

    public static ComponentFacts Component(FactReader facts) =>
        new()
        {
            Kind = facts.Word("component", StackLayout.Kinds, ComponentKind.Plate),
            OutsideDiameterMetres = facts.Number("outside_diameter", "m", true),
            NominalWallMetres = facts.Number("nominal_wall", "m", true),
            BendRadiusMetres = facts.Number("bend_radius", "m", true),
            BendAngleRadians = facts.Number("bend_angle", "rad", true),
            StraightEndsMetres = facts.Number("straight_ends", "m", false),
            LengthMetres = facts.Number("component_length", "m", true),
            WidthMetres = facts.Number("component_width", "m", true),
        };

    public static LinePlacement Placement(FactReader facts) =>
        new()
        {
            Direction = facts.Word("line_direction", StackLayout.Directions),
            Origin = facts.Word("line_origin", StackLayout.Origins),
            DatumMetres = facts.Number("datum", "m", false),
            Track = facts.Word("encoder_track", StackLayout.Tracks),
            IndexOffsetMetres = facts.Number("index_offset", "m", false),
        };

    private static AcquisitionFacts Acquisition(FactReader facts) =>
        new()
        {
            FrequencyHz = facts.Number("frequency", "Hz", true),
            BandwidthFraction = facts.Number("bandwidth", "1", true),
            ApertureMetres = facts.Number("aperture", "m", true),
            PitchMetres = facts.Number("pitch", "m", true),
            Elements = facts.Count("elements"),
            GainDecibels = facts.Number("gain", "dB", false),
            Form = facts.Word("signal_form", StackLayout.Forms, SignalForm.RadioFrequency),
            Averages = facts.Count("averages"),
            VelocityMetresPerSecond = facts.Number("velocity", "m/s", true),
            ShearVelocityMetresPerSecond = facts.Number("shear_velocity", "m/s", true),
            CouplantVelocityMetresPerSecond = facts.Number("couplant_velocity", "m/s", true),
            TemperatureCelsius = facts.Number("temperature", "degC", false),
        };

    private static StackShape Shape(Hdf5File file, Hdf5Dataset ascans, SampleType type)
    {
        IReadOnlyList<long> d = ascans.Dimensions;
        if (d.Count != 3)
        {
            throw new StackFormatException(
                $"The A-scans have rank {d.Count}.",
                file.Path,
                ascans.Path,
                "store them as [scan, beam, sample], or describe the file with a layout map."
            );
        }
        bool fits = d[0] is > 0 and <= int.MaxValue && d[1] is > 0 and <= int.MaxValue && d[2] is > 0 and <= 1 << 26;
        if (!fits || d[1] * d[2] * type.SizeBytes() > int.MaxValue)
        {
            throw new StackFormatException(
                $"An extent of [{d[0]}, {d[1]}, {d[2]}] is out of range (each at least 1, one scan line below 2 GB).",
                file.Path,
                ascans.Path,
                "store the A-scans as [scan, beam, sample]; split longer scan lines into several lines."
            );
        }
        return new StackShape((int)d[0], (int)d[1], (int)d[2]);
    }

    private static double[]? Positions(Hdf5File file, string path, int count, PositionRules.Check check)
    {
        double[]? values = Axis(file, path, count, "m");
        if (values is not null)
            check(values, file.Path, path);
        return values;
    }

    private static double[]? Axis(Hdf5File file, string path, int count, string unit)
    {
        if (!file.Exists(path))
            return null;
        Hdf5Dataset dataset = file.Dataset(path);
        if (dataset.Dimensions is not [long found] || found != count)
        {
            throw new StackFormatException(
                $"[{string.Join(", ", dataset.Dimensions)}] values were found, {count} are needed.",
                file.Path,
                path,
                "write one value for each position along the axis."
            );
        }
        foreach (Hdf5Attribute attribute in dataset.Attributes())
        {
            if (attribute.Name == "units" && attribute.ToText() != unit)
            {
                throw new StackFormatException(
                    $"The unit is '{attribute.ToText()}', but this format stores '{unit}'.",
                    file.Path,
                    $"{path}, attribute units",
                    $"convert the values to {unit}."
                );
            }
        }
        double[] values = dataset.ReadDoubles();
        int bad = Array.FindIndex(values, v => !double.IsFinite(v));
        if (bad >= 0)
        {
            throw new StackFormatException(
                FormattableString.Invariant($"Value {bad} is {values[bad]}."),
                file.Path,
                path,
                "write finite values."
            );
        }
        return values;
    }
}
