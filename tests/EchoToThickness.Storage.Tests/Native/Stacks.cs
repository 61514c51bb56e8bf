using EchoToThickness.Stacks;
using EchoToThickness.Storage.Native;
using EchoToThickness.Storage.Tests.Hdf5;

namespace EchoToThickness.Storage.Tests.Native;

/// <summary>Small stacks for the tests; samples follow the formula of the HDF5 fixtures.</summary>
internal static class Stacks
{
    public static StackInfo Info(SampleType type = SampleType.Int16, int scans = 7, int beams = 11, int samples = 40) =>
        new()
        {
            Name = "test",
            Shape = new StackShape(scans, beams, samples),
            SampleType = type,
            TimeBase = new TimeBase
            {
                SampleRateHz = 100e6,
                StartSeconds = 1.5e-6,
                BeamStartSeconds = [.. Enumerable.Range(0, beams).Select(b => 1.5e-6 + b * 1e-9)],
            },
            Amplitude = AmplitudeScale.For(type),
            Acquisition = new AcquisitionFacts
            {
                FrequencyHz = 7.5e6,
                Elements = 64,
                GainDecibels = 32.5,
                Form = SignalForm.RadioFrequency,
                TemperatureCelsius = -5,
                VelocityMetresPerSecond = 5920,
            },
            Component = new ComponentFacts
            {
                Kind = ComponentKind.Pipe,
                OutsideDiameterMetres = 0.2191,
                NominalWallMetres = 0.0082,
            },
            Neighbours = NeighbourAxes.Beam,
            ScanPositionsMetres = [.. Enumerable.Range(0, scans).Select(s => 0.1 - s * 1e-3)],
            IndexPositionsMetres = [.. Enumerable.Range(0, beams).Select(b => b * 5e-4)],
        };

    public static byte[] Samples(StackInfo info) =>
        Fixtures.Expected(info.SampleType, [0, 0, 0], [info.Shape.Scans, info.Shape.Beams, info.Shape.Samples]);

    public static byte[] Present(StackInfo info)
    {
        byte[] present = new byte[info.Shape.Cells];
        for (int i = 0; i < present.Length; i++)
            present[i] = (byte)(i % 5 == 0 ? 0 : 1);
        return present;
    }

    public static double[] Truth(StackInfo info) =>
        [.. Enumerable.Range(0, (int)info.Shape.Cells).Select(i => i % 7 == 0 ? double.NaN : 0.008 - i * 1e-6)];

    public static readonly string[] LabelNames = ["lamination", "spike", "", "dropped"];

    public static uint[] Labels(StackInfo info) =>
        [.. Enumerable.Range(0, (int)info.Shape.Cells).Select(i => (uint)(i % 3) | (i % 4 == 0 ? 8u : 0))];

    public static void Write(string path, StackInfo info, StackWriterOptions options, params string[] lines)
    {
        using StackWriter writer = StackWriter.Create(path, options);
        foreach (string name in lines)
        {
            StackLineWriter line = writer.AddLine(name, info);
            line.WriteTruth("thickness", Truth(info));
            line.WriteLabels("planted", LabelNames, Labels(info));
            line.Write(Samples(info), Present(info));
        }
        writer.Complete();
    }
}
