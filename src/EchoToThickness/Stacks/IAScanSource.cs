namespace EchoToThickness.Stacks;

/// <summary>A stack that can be read in blocks, from a file or from memory. Thread-safe; each thread opens its own reader.</summary>
public interface IAScanSource : IDisposable
{
    /// <summary>What is known of the stack.</summary>
    StackInfo Info { get; }

    /// <summary>Scan positions that are cheapest to read together (the chunk's extent); at least 1.</summary>
    int ScansPerRead { get; }

    /// <summary>Opens a reader for one thread.</summary>
    IAScanReader OpenReader();
}
