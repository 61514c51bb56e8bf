using EchoToThickness.Stacks;
using EchoToThickness.Storage.Layouts;
using EchoToThickness.Storage.Native;
using EchoToThickness.Units;

namespace EchoToThickness.Storage.Foreign;

/// <summary>Gathers the description of a stack from a layout map and the objects it names.</summary>
internal sealed class FactsBuilder(LayoutContext context, AxisPlan plan)
{
    private readonly FactReader _facts = new(context);

    /// <summary>Everything but the samples.</summary>
    public StackInfo Build(string name, SampleType type)
    {
        SamplesLayout samples = context.Map.Samples;
        AmplitudeScale scale = Scale(samples, type);
        bool scanSlowest = plan.Cell >= 0 || plan.Scan < plan.Beam;
        PositionsLayout positions = context.Map.Positions;
        double[]? scan = _facts.Vector(
            "positions.scan",
            positions.Scan,
            Dimension.Length,
            "scan",
            plan.Shape.Scans,
            plan.Shape.Beams,
            scanSlowest,
            plan.ScanReversed
        );
        double[]? index = _facts.Vector(
            "positions.index",
            positions.Index,
            Dimension.Length,
            "beam",
            plan.Shape.Beams,
            plan.Shape.Scans,
            !scanSlowest,
            plan.BeamReversed
        );
        if (scan is not null)
            PositionRules.Monotonic(scan, context.Path, Place("positions.scan", positions.Scan!));
        if (index is not null)
            PositionRules.Distinct(index, context.Path, Place("positions.index", positions.Index!));
        return new StackInfo
        {
            Name = name,
            Shape = plan.Shape,
            SampleType = type,
            TimeBase = Time(scanSlowest),
            Amplitude = scale,
            Acquisition = Acquisition(),
            Component = Component(),
            Neighbours = Neighbours(samples.Neighbours) switch
            {
                StoredNeighbours.Both => NeighbourAxes.Both,
                StoredNeighbours.Scan => NeighbourAxes.Scan,
                StoredNeighbours.Beam => NeighbourAxes.Beam,
                _ => NeighbourAxes.None,
            },
            ScanPositionsMetres = scan,
            IndexPositionsMetres = index,
        };
    }

    /// <summary>What the file's own text says of the neighbourhood, else what the map says for all files.</summary>
    private StoredNeighbours Neighbours(StoredNeighbours otherwise)
    {
        NeighboursLayout layout = context.Map.Neighbours;
        if (layout.Attribute is not { } attribute)
            return otherwise;
        string text = _facts.Text("neighbours.attribute", attribute);
        return layout.Both.Contains(text) ? StoredNeighbours.Both
            : layout.Scan.Contains(text) ? StoredNeighbours.Scan
            : layout.Beam.Contains(text) ? StoredNeighbours.Beam
            : layout.None.Contains(text) ? StoredNeighbours.None
            : otherwise;
    }

    private string Place(string key, ValueSource source) =>
        $"{context.Resolve(source.Dataset ?? source.Attribute ?? "")} ({key} in {context.Document.PlaceOf(key)})";

    /// <summary>A layer over the cells; null when not mapped, or optional and missing.</summary>
    public CellLayer? Layer(string key, ValueSource? source, Dimension? dimension)
    {
        if (source is null)
            return null;
        if (source.Value is { } constant)
            return new CellLayer(plan, FactReader.Constant(constant, dimension));
        if (source.Dataset is not { } text)
        {
            return _facts.Scalar(key, source, dimension) is { } value ? new CellLayer(plan, value) : null;
        }
        Hdf5.Hdf5File file = context.Require(key);
        string path = context.Resolve(text);
        if (!file.IsDataset(path))
        {
            if (source.Optional && !file.Exists(path))
                return null;
            throw context.DataFault(key, path, "There is no such dataset.", "correct the path, or add optional = true");
        }
        Hdf5.Hdf5Dataset dataset = file.Dataset(path);
        (double factor, double offset) = _facts.Unit(key, source, dimension, dataset, path);
        return new CellLayer(
            plan,
            dataset,
            factor * source.Scale,
            offset,
            what =>
                context.DataFault(
                    key,
                    path,
                    what,
                    "name a dataset over the cells, axes in the order of the samples' own"
                )
        );
    }

    private static AmplitudeScale Scale(SamplesLayout samples, SampleType type)
    {
        AmplitudeScale implied = AmplitudeScale.For(type);
        double zero = samples.ZeroCounts ?? implied.ZeroCounts;
        double low = samples.LowerRailCounts ?? implied.MinimumCounts;
        double high = samples.UpperRailCounts ?? implied.MaximumCounts;
        double full = samples.FullScaleCounts ?? implied.FullScaleCounts;
        return samples.Invert
            ? new AmplitudeScale(
                full,
                zero,
                SampleInversion.Invert(high, type, zero),
                SampleInversion.Invert(low, type, zero)
            )
            : new AmplitudeScale(full, zero, low, high);
    }

    private TimeBase Time(bool scanSlowest)
    {
        TimeLayout time = context.Map.Time;
        double rate;
        double start = 0;
        double[]? beamStarts = null;
        if (time.Axis is { } axis)
        {
            (rate, start) = FromAxis(axis);
        }
        else
        {
            string key = time.SampleRate is not null ? "time.sample_rate" : "time.interval";
            double? found = time.SampleRate is { } direct
                ? _facts.Scalar(key, direct, Dimension.Frequency)
                : 1 / _facts.Scalar(key, time.Interval, Dimension.Time);
            rate =
                found
                ?? throw context.DataFault(
                    key,
                    "",
                    "The time base is missing.",
                    "a sample rate cannot be optional: name one that is there"
                );
            if (!(rate > 0) || !double.IsFinite(rate))
            {
                throw context.DataFault(
                    key,
                    (time.SampleRate ?? time.Interval)!.Attribute ?? (time.SampleRate ?? time.Interval)!.Dataset ?? "",
                    $"The sample rate is {rate} Hz.",
                    "a rate above 0 is needed: write it into the file, or give it as a constant"
                );
            }
            if (time.Start is { } from)
                (start, beamStarts) = Start(from, scanSlowest);
        }
        if (time.Path == StoredPath.Half)
        {
            rate /= 2;
            start *= 2;
            beamStarts = beamStarts?.Select(s => 2 * s).ToArray();
        }
        return new TimeBase
        {
            SampleRateHz = rate,
            StartSeconds = start,
            BeamStartSeconds = beamStarts,
        };
    }

    private (double Start, double[]? Beams) Start(ValueSource source, bool scanSlowest)
    {
        const string key = "time.start";
        if (_facts.Values(key, source, Dimension.Time) is not { } read)
            return (0, null);
        double first = read.Values.Length > 0 ? read.Values[0] : double.NaN;
        if (Array.TrueForAll(read.Values, v => v.Equals(first)))
        {
            return double.IsFinite(first)
                ? (first, null)
                : throw context.DataFault(key, read.Where, $"The start is {first}.", "write a finite number");
        }
        double[] beams = _facts.Vector(
            key,
            source,
            Dimension.Time,
            "beam",
            plan.Shape.Beams,
            plan.Shape.Scans,
            !scanSlowest,
            plan.BeamReversed
        )!;
        return (beams[0], beams);
    }

    private (double Rate, double Start) FromAxis(ValueSource source)
    {
        const string key = "time.axis";
        (double[] times, _, string where) =
            _facts.Values(key, source, Dimension.Time)
            ?? throw context.DataFault(
                key,
                source.Dataset ?? "",
                "The time base is missing.",
                "name a dataset that is there"
            );
        int samples = plan.Shape.Samples;
        if (times.Length != samples || samples < 2)
        {
            throw context.DataFault(
                key,
                where,
                $"There are {times.Length} times for {samples} samples.",
                "name the dataset with one time for each sample"
            );
        }
        if (plan.SampleReversed)
            Array.Reverse(times);
        double interval = (times[^1] - times[0]) / (samples - 1);
        if (!(interval > 0) || !double.IsFinite(interval))
            throw context.DataFault(
                key,
                where,
                $"The times run from {times[0]} s to {times[^1]} s.",
                "times must rise; check reversed and the unit"
            );
        for (int i = 0; i < samples; i++)
        {
            // Times are often stored in single precision: a hundredth of an interval is far above that and far below any use.
            if (!(Math.Abs(times[0] + i * interval - times[i]) <= 0.01 * interval))
                throw context.DataFault(
                    key,
                    where,
                    $"Time {i} is off the even spacing by more than 1 % of an interval.",
                    "samples must be evenly spaced"
                );
        }
        return (1 / interval, times[0]);
    }

    private AcquisitionFacts Acquisition()
    {
        AcquisitionLayout a = context.Map.Acquisition;
        return new AcquisitionFacts
        {
            FrequencyHz = _facts.Scalar("acquisition.frequency", a.Frequency, Dimension.Frequency),
            BandwidthFraction = _facts.Scalar("acquisition.bandwidth", a.Bandwidth, Dimension.Fraction),
            ApertureMetres = _facts.Scalar("acquisition.aperture", a.Aperture, Dimension.Length),
            PitchMetres = _facts.Scalar("acquisition.pitch", a.Pitch, Dimension.Length),
            Elements = _facts.Whole("acquisition.elements", a.Elements),
            GainDecibels = _facts.Scalar("acquisition.gain", a.Gain, Dimension.Decibel),
            Form = a.Form == StoredForm.Rectified ? SignalForm.Rectified : SignalForm.RadioFrequency,
            Averages = _facts.Whole("acquisition.averages", a.Averages),
            VelocityMetresPerSecond = _facts.Scalar("acquisition.velocity", a.Velocity, Dimension.Velocity),
            ShearVelocityMetresPerSecond = _facts.Scalar(
                "acquisition.shear_velocity",
                a.ShearVelocity,
                Dimension.Velocity
            ),
            CouplantVelocityMetresPerSecond = _facts.Scalar(
                "acquisition.couplant_velocity",
                a.CouplantVelocity,
                Dimension.Velocity
            ),
            TemperatureCelsius = _facts.Scalar("acquisition.temperature", a.Temperature, Dimension.Temperature),
        };
    }

    private ComponentFacts Component()
    {
        ComponentLayout c = context.Map.Component;
        return new ComponentFacts
        {
            Kind = c.Kind switch
            {
                StoredComponent.Pipe => ComponentKind.Pipe,
                StoredComponent.Elbow => ComponentKind.Elbow,
                _ => ComponentKind.Plate,
            },
            OutsideDiameterMetres = _facts.Scalar("component.outside_diameter", c.OutsideDiameter, Dimension.Length),
            NominalWallMetres = _facts.Scalar("component.nominal_wall", c.NominalWall, Dimension.Length),
            BendRadiusMetres = _facts.Scalar("component.bend_radius", c.BendRadius, Dimension.Length),
            BendAngleRadians = _facts.Scalar("component.bend_angle", c.BendAngle, Dimension.Angle),
        };
    }
}
