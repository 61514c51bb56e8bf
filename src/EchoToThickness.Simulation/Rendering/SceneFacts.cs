using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>The facts that a simulated stack carries: those a careful operator would have written down, and no truth.</summary>
internal static class SceneFacts
{
    public static StackInfo Info(SceneModel model, int line)
    {
        Scene scene = model.Scene;
        ArraySection array = scene.Array;
        ComponentShape shape = model.Shape;
        bool pipe = shape.Shape != SceneShape.Plate;
        bool elbow = shape.Shape == SceneShape.Elbow;
        return new StackInfo
        {
            Name = model.Lines == 1 ? scene.Header.Name : $"{scene.Header.Name}, {model.Geometry.LineName(line)}",
            Shape = model.Geometry.ShapeOf(line),
            SampleType = model.Instrument.SampleType,
            TimeBase = new TimeBase { SampleRateHz = model.Time.SampleRateHz, StartSeconds = model.Time.StartSeconds },
            Amplitude = model.Instrument.Amplitude,
            Acquisition = new AcquisitionFacts
            {
                FrequencyHz = array.FrequencyHz,
                BandwidthFraction = array.BandwidthFraction,
                ApertureMetres = array.ApertureElements * array.PitchMetres,
                ElevationMetres = array.ElevationMetres,
                PitchMetres = array.PitchMetres,
                Elements = array.Elements,
                Form = model.Instrument.Form,
                Averages = scene.Instrument.Averages,
                VelocityMetresPerSecond = SceneTimeBase.VelocityMetresPerSecond(scene.Material),
                ShearVelocityMetresPerSecond = scene.Material.ShearVelocityMetresPerSecond,
                CouplantVelocityMetresPerSecond = scene.Coupling.VelocityMetresPerSecond,
                TemperatureCelsius = scene.Material.TemperatureCelsius,
            },
            Component = new ComponentFacts
            {
                Kind =
                    elbow ? ComponentKind.Elbow
                    : pipe ? ComponentKind.Pipe
                    : ComponentKind.Plate,
                OutsideDiameterMetres = pipe ? 2 * shape.OutsideRadiusMetres : null,
                NominalWallMetres = shape.NominalWallMetres,
                BendRadiusMetres = elbow ? shape.BendRadiusMetres : null,
                BendAngleRadians = elbow ? scene.Component.BendAngleRadians : null,
                StraightEndsMetres = elbow ? shape.StraightEndsMetres : null,
                LengthMetres = elbow ? null : shape.LengthMetres,
                WidthMetres = pipe ? null : shape.WidthMetres,
            },
            Placement = new LinePlacement
            {
                Direction = scene.Scan.Direction == ScanDirection.Along ? LineDirection.Along : LineDirection.Around,
                Origin = scene.Scan.Start == ScanStart.MidBend ? LineOrigin.MidBend : LineOrigin.ComponentStart,
                Track = scene.Scan.Encoder == EncoderPath.Line ? EncoderTrack.Line : EncoderTrack.CentreLine,
            },
            ScanPositionsMetres = model.Geometry.ScanPositionsMetres(line),
            IndexPositionsMetres = model.Geometry.IndexPositionsMetres(line),
        };
    }
}
