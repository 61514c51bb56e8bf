namespace EchoToThickness.Tests;

/// <summary>Bytes that code allocates on its own thread.</summary>
internal static class Allocation
{
    /// <summary>
    /// The smallest count of five rounds. What the code itself allocates shows in every round; what the runtime allocates on the thread
    /// now and then (tiered compilation, first use of a path) does not.
    /// </summary>
    public static long Of(Action action)
    {
        long smallest = long.MaxValue;
        for (int round = 0; round < 5; round++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            action();
            smallest = Math.Min(smallest, GC.GetAllocatedBytesForCurrentThread() - before);
        }
        return smallest;
    }
}
