namespace EchoToThickness.Evidence;

/// <summary>
/// Interface evidence of a strip of scan lines: up to <see cref="CandidatesPerCell"/> candidates a cell, fixed size, and the choice
/// made after looking at neighbours. Memory is bounded by the strip, not by the stack.
/// </summary>
public sealed class InterfaceStrip
{
    /// <summary>Candidates kept for one cell.</summary>
    public const int CandidatesPerCell = 4;

    private readonly InterfaceCandidate[] _candidates;
    private readonly byte[] _counts;
    private readonly float[] _chosenSeconds;
    private readonly byte[] _tracked;

    /// <summary>Makes room for a strip.</summary>
    /// <param name="scanCapacity">Largest number of scan positions.</param>
    /// <param name="beams">Beams of the stack.</param>
    public InterfaceStrip(int scanCapacity, int beams)
    {
        ScanCapacity = scanCapacity;
        Beams = beams;
        _candidates = new InterfaceCandidate[scanCapacity * beams * CandidatesPerCell];
        _counts = new byte[scanCapacity * beams];
        _chosenSeconds = new float[scanCapacity * beams];
        _tracked = new byte[scanCapacity * beams];
    }

    /// <summary>Largest number of scan positions.</summary>
    public int ScanCapacity { get; }

    /// <summary>Beams of the stack.</summary>
    public int Beams { get; }

    /// <summary>First scan position of the strip in the stack.</summary>
    public int FirstScan { get; private set; }

    /// <summary>Scan positions in the strip.</summary>
    public int ScanCount { get; private set; }

    /// <summary>Places the strip on the stack and forgets everything in it.</summary>
    /// <param name="firstScan">First scan position.</param>
    /// <param name="scanCount">Scan positions.</param>
    public void Place(int firstScan, int scanCount)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(scanCount, ScanCapacity);
        FirstScan = firstScan;
        ScanCount = scanCount;
        Array.Clear(_counts);
        Array.Fill(_chosenSeconds, float.NaN);
        Array.Clear(_tracked);
    }

    /// <summary>Candidates of a cell, best first.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public ReadOnlySpan<InterfaceCandidate> Candidates(int scan, int beam)
    {
        int cell = Index(scan, beam);
        return _candidates.AsSpan(cell * CandidatesPerCell, _counts[cell]);
    }

    /// <summary>Stores the candidates of a cell; those beyond <see cref="CandidatesPerCell"/> are dropped.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    /// <param name="candidates">Best first.</param>
    public void SetCandidates(int scan, int beam, ReadOnlySpan<InterfaceCandidate> candidates)
    {
        int cell = Index(scan, beam);
        int count = Math.Min(candidates.Length, CandidatesPerCell);
        candidates[..count].CopyTo(_candidates.AsSpan(cell * CandidatesPerCell));
        _counts[cell] = (byte)count;
        _chosenSeconds[cell] = count > 0 ? candidates[0].Seconds : float.NaN;
    }

    /// <summary>The interface time chosen for a cell, seconds from the pulse; NaN when none.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public float ChosenSeconds(int scan, int beam) => _chosenSeconds[Index(scan, beam)];

    /// <summary>Whether the choice was changed or supplied by neighbours.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    public bool IsTracked(int scan, int beam) => _tracked[Index(scan, beam)] != 0;

    /// <summary>Records a choice.</summary>
    /// <param name="scan">Scan position in the stack.</param>
    /// <param name="beam">Beam in the stack.</param>
    /// <param name="seconds">Seconds from the pulse; NaN for none.</param>
    /// <param name="tracked">Whether neighbours changed or supplied it.</param>
    public void Choose(int scan, int beam, float seconds, bool tracked)
    {
        int cell = Index(scan, beam);
        _chosenSeconds[cell] = seconds;
        _tracked[cell] = tracked ? (byte)1 : (byte)0;
    }

    private int Index(int scan, int beam) => (scan - FirstScan) * Beams + beam;
}
