using System.Runtime.InteropServices;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;

namespace EchoToThickness.Storage.Native;

/// <summary>Writes everything about a line but its samples.</summary>
internal static class StackInfoWriter
{
    public static void Write(Hdf5Builder builder, StoredGroup group, StackInfo info)
    {
        Facts(group, info);
        if (info.TimeBase.BeamStartSeconds is { } starts)
            Axis(builder, group, StackLayout.BeamStartTime, starts, "s");
        if (info.ScanPositionsMetres is { } scan)
            Axis(builder, group, StackLayout.ScanPosition, scan, "m");
        if (info.IndexPositionsMetres is { } index)
            Axis(builder, group, StackLayout.IndexPosition, index, "m");
    }

    public static void Component(StoredNode node, ComponentFacts component)
    {
        node.SetFixed("component", StackLayout.WordOf(StackLayout.Kinds, component.Kind));
        Number(node, "outside_diameter", component.OutsideDiameterMetres, "m");
        Number(node, "nominal_wall", component.NominalWallMetres, "m");
        Number(node, "bend_radius", component.BendRadiusMetres, "m");
        Number(node, "bend_angle", component.BendAngleRadians, "rad");
        Number(node, "straight_ends", component.StraightEndsMetres, "m");
        Number(node, "component_length", component.LengthMetres, "m");
        Number(node, "component_width", component.WidthMetres, "m");
    }

    public static void Placement(StoredNode node, LinePlacement placement)
    {
        if (placement.Direction is { } direction)
            node.SetFixed("line_direction", StackLayout.WordOf(StackLayout.Directions, direction));
        if (placement.Origin is { } origin)
            node.SetFixed("line_origin", StackLayout.WordOf(StackLayout.Origins, origin));
        Number(node, "datum", placement.DatumMetres, "m");
        if (placement.Track is { } track)
            node.SetFixed("encoder_track", StackLayout.WordOf(StackLayout.Tracks, track));
        Number(node, "index_offset", placement.IndexOffsetMetres, "m");
    }

    /// <summary>A dataset [scan, beam] in chunks of whole rows, each with a checksum.</summary>
    public static StoredDataset Rows(
        Hdf5Builder builder,
        StoredGroup parent,
        string name,
        StoredType type,
        StackShape shape,
        ReadOnlySpan<byte> raw
    )
    {
        int rowBytes = checked(shape.Beams * type.SizeBytes);
        int rows = Math.Clamp((256 << 10) / rowBytes, 1, shape.Scans);
        byte[] chunk = new byte[rows * rowBytes];
        (long, int)[] chunks = new (long, int)[(shape.Scans + rows - 1) / rows];
        for (int i = 0; i < chunks.Length; i++)
        {
            ReadOnlySpan<byte> part = raw[(i * chunk.Length)..];
            part = part[..Math.Min(part.Length, chunk.Length)];
            chunk.AsSpan().Clear();
            part.CopyTo(chunk);
            chunks[i] = builder.AppendSealed(chunk);
        }
        StoredDataset dataset = new()
        {
            Type = type,
            Dimensions = [shape.Scans, shape.Beams],
            Chunk = [rows, shape.Beams],
            Filters = [(FilterMessage.Fletcher32, [])],
            Chunks = chunks,
        };
        parent.Members.Add((name, dataset));
        return dataset;
    }

    private static void Facts(StoredNode node, StackInfo info)
    {
        Number(node, "sample_rate", info.TimeBase.SampleRateHz, "Hz");
        Number(node, "start_time", info.TimeBase.StartSeconds, "s");
        Number(node, "full_scale", info.Amplitude.FullScaleCounts, "counts");
        Number(node, "zero_level", info.Amplitude.ZeroCounts, "counts");
        Number(node, "lower_rail", Known(info.Amplitude.MinimumCounts), "counts");
        Number(node, "upper_rail", Known(info.Amplitude.MaximumCounts), "counts");
        node.SetFixed("neighbours", StackLayout.WordOf(StackLayout.Neighbours, info.Neighbours));
        AcquisitionFacts a = info.Acquisition;
        node.SetFixed("signal_form", StackLayout.WordOf(StackLayout.Forms, a.Form));
        Number(node, "frequency", a.FrequencyHz, "Hz");
        Number(node, "bandwidth", a.BandwidthFraction, "1");
        Number(node, "aperture", a.ApertureMetres, "m");
        Number(node, "pitch", a.PitchMetres, "m");
        Count(node, "elements", a.Elements);
        Number(node, "gain", a.GainDecibels, "dB");
        Count(node, "averages", a.Averages);
        Number(node, "velocity", a.VelocityMetresPerSecond, "m/s");
        Number(node, "shear_velocity", a.ShearVelocityMetresPerSecond, "m/s");
        Number(node, "couplant_velocity", a.CouplantVelocityMetresPerSecond, "m/s");
        Number(node, "temperature", a.TemperatureCelsius, "degC");
        Component(node, info.Component);
        Placement(node, info.Placement);
    }

    private static double? Known(double counts) => double.IsNaN(counts) ? null : counts;

    private static void Number(StoredNode node, string name, double? value, string unit)
    {
        if (value is not { } number)
            return;
        if (!double.IsFinite(number))
        {
            throw new ArgumentException(
                FormattableString.Invariant($"The fact {name} is {number}; it must be finite."),
                nameof(value)
            );
        }
        node.Set(name, number);
        node.SetFixed(name + "_units", unit);
    }

    private static void Count(StoredNode node, string name, int? value)
    {
        if (value is { } count)
            node.Set(name, count);
    }

    private static void Axis(
        Hdf5Builder builder,
        StoredGroup group,
        string name,
        IReadOnlyList<double> values,
        string unit
    )
    {
        double[] numbers = [.. values];
        builder
            .AddSmall(group, name, StoredType.Float64, [numbers.Length], MemoryMarshal.AsBytes(numbers.AsSpan()))
            .SetFixed("units", unit);
    }
}
