namespace EchoToThickness.Stacks;

/// <summary>Lends blocks of A-scans from buffers it owns. One a thread; not thread-safe.</summary>
public interface IAScanReader : IDisposable
{
    /// <summary>Lends a rectangle of A-scans. The block is valid until the next call or disposal.</summary>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions, at least 1.</param>
    /// <param name="firstBeam">First beam.</param>
    /// <param name="beamCount">Beams, at least 1.</param>
    /// <exception cref="StackFormatException">The bytes cannot be read or decoded; names file and object.</exception>
    AScanBlock Lend(int firstScan, int scanCount, int firstBeam, int beamCount);
}
