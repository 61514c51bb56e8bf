using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests.Instruments;

/// <summary>Expected places are counted by hand on a line of 21 positions, 1 mm apart.</summary>
public sealed class ScanFaultsTests
{
    [Fact]
    public void Rows_WithoutFaults_AreThePlan()
    {
        ScanFaults faults = Compile();
        Assert.False(faults.HasFaults(0));
        for (int scan = 0; scan < 21; scan++)
            Assert.Equal(new ScanRow(scan, scan, true, PlantedFailure.None), faults.RowOf(0, scan));
        Assert.Equal(new ScanLine(1, 0, PlantedFailure.None), faults.LineOf(1));
    }

    [Fact]
    public void EncoderSlip_MovesWhatFollowsOnward_AndTheEndIsLost()
    {
        ScanFaults faults = Compile(Fault(FaultKind.EncoderSlip, 0.5, 3e-3));
        // Beyond the plan the place is held at its last position.
        Assert.Equal([.. Range(0, 10), .. Range(13, 8), 20, 20, 20], Places(faults));
        Assert.Equal(Range(0, 18), Rows(faults).Where(r => r.IsPresent).Select((_, i) => i));
        Assert.Equal(PlantedFailure.None, faults.RowOf(0, 9).Labels);
        Assert.Equal(PlantedFailure.EncoderSlip, faults.RowOf(0, 10).Labels);
        Assert.Equal(PlantedFailure.EncoderSlip | PlantedFailure.Dropped, faults.RowOf(0, 18).Labels);
    }

    [Fact]
    public void EncoderSpin_RepeatsOnePlace()
    {
        ScanFaults faults = Compile(Fault(FaultKind.EncoderSpin, 0.5, 3e-3));
        Assert.Equal([.. Range(0, 10), 9, 9, 9, .. Range(10, 8)], Places(faults));
        Assert.Equal(PlantedFailure.Duplicate | PlantedFailure.EncoderSlip, faults.RowOf(0, 10).Labels);
        Assert.Equal(PlantedFailure.EncoderSlip, faults.RowOf(0, 13).Labels);
        Assert.All(Rows(faults), row => Assert.True(row.IsPresent));
    }

    [Fact]
    public void Reversal_ShowsTheMetalThreeTimes_OnceMirrored()
    {
        ScanFaults faults = Compile(Fault(FaultKind.Reversal, 0.5, 3e-3));
        Assert.Equal([.. Range(0, 10), 8, 7, 6, 7, 8, 9, .. Range(10, 5)], Places(faults));
        // What an encoder with direction would have written turns back, so no stack can hold it.
        Assert.Equal(Places(faults), Rows(faults).Select(r => r.SignedCount));
        Assert.Equal(PlantedFailure.Reversal, faults.RowOf(0, 10).Labels);
        Assert.Equal(PlantedFailure.Reversal, faults.RowOf(0, 15).Labels);
        Assert.Equal(PlantedFailure.EncoderSlip, faults.RowOf(0, 16).Labels);
    }

    [Fact]
    public void Reversal_BeyondTheStart_IsNotPresent()
    {
        ScanFaults faults = Compile(Fault(FaultKind.Reversal, 0.1, 4e-3));
        Assert.Equal([0, 1, 0, 0, 0, 0, 0, 0, 0, 1], Places(faults)[..10]);
        Assert.Equal(
            [true, true, true, false, false, false, false, false, true],
            Rows(faults)[..9].Select(r => r.IsPresent)
        );
    }

    [Fact]
    public void DroppedScans_AreMissingAndNothingMoves()
    {
        ScanFaults faults = Compile(Fault(FaultKind.DroppedScans, 0.25, 2e-3));
        Assert.Equal(Range(0, 21), Places(faults));
        Assert.Equal([5, 6], Rows(faults).Select((r, i) => r.IsPresent ? -1 : i).Where(i => i >= 0));
        Assert.Equal(PlantedFailure.Dropped, faults.RowOf(0, 5).Labels);
    }

    [Fact]
    public void TwoFaults_AddUp()
    {
        ScanFaults faults = Compile(Fault(FaultKind.EncoderSlip, 0.25, 2e-3), Fault(FaultKind.EncoderSpin, 0.5, 2e-3));
        Assert.Equal([.. Range(0, 5), .. Range(7, 5), 11, 11, .. Range(12, 9)], Places(faults));
    }

    [Fact]
    public void Faults_OnNamedLines_LeaveTheOthersAlone()
    {
        ScanFaults faults = Compile(
            Fault(FaultKind.EncoderSlip, 0.5, 3e-3) with
            {
                Lines = [2],
            },
            Fault(FaultKind.DuplicateLine, 0, 0) with
            {
                Lines = [2, 3],
            },
            Fault(FaultKind.MissedIndex, 0, 4e-3) with
            {
                Lines = [3],
            }
        );
        Assert.False(faults.HasFaults(0));
        Assert.True(faults.HasFaults(1));
        Assert.Equal(new ScanLine(0, 0, PlantedFailure.None), faults.LineOf(0));
        Assert.Equal(new ScanLine(0, 0, PlantedFailure.Duplicate), faults.LineOf(1));
        Assert.Equal(new ScanLine(0, -4e-3, PlantedFailure.Duplicate | PlantedFailure.MissedIndex), faults.LineOf(2));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Lines_OfOneOrTwoPositions_Survive(int scans)
    {
        Scene scene = Scene(
            Fault(FaultKind.Reversal, 1, 9e-3),
            Fault(FaultKind.EncoderSlip, 0, 9e-3),
            Fault(FaultKind.DroppedScans, 1, 1)
        );
        ScanFaults faults = ScanFaults.Compile(scene, [scans]);
        for (int scan = 0; scan < scans; scan++)
            Assert.InRange(faults.RowOf(0, scan).TrueScan, 0, scans - 1);
        Assert.Throws<ArgumentOutOfRangeException>(() => faults.RowOf(0, scans));
        Assert.Throws<ArgumentException>(() => ScanFaults.Compile(scene, []));
    }

    private static FaultEntry Fault(FaultKind kind, double at, double size) =>
        new()
        {
            Kind = kind,
            AtFraction = at,
            SizeMetres = size,
        };

    private static Scene Scene(params FaultEntry[] faults) =>
        new()
        {
            Faults = faults,
            Scan = new ScanSection { PitchMetres = 1e-3 },
        };

    private static ScanFaults Compile(params FaultEntry[] faults) => ScanFaults.Compile(Scene(faults), [21, 21, 21]);

    private static ScanRow[] Rows(ScanFaults faults) => [.. Enumerable.Range(0, 21).Select(s => faults.RowOf(0, s))];

    private static int[] Places(ScanFaults faults) => [.. Rows(faults).Select(r => r.TrueScan)];

    private static IEnumerable<int> Range(int first, int count) => Enumerable.Range(first, count);
}
