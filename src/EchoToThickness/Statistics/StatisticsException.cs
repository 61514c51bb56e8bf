namespace EchoToThickness.Statistics;

/// <summary>A map or a setting cannot be used for the statistic that was asked for.</summary>
public sealed class StatisticsException : Exception
{
    /// <summary>Says what is wrong, where, and how to put it right.</summary>
    /// <param name="what">What is wrong, with the value found and the range allowed.</param>
    /// <param name="where">Map, layer, cell or setting.</param>
    /// <param name="remedy">What the user can do.</param>
    /// <param name="inner">The cause, where another library reported it.</param>
    public StatisticsException(string what, string where, string remedy, Exception? inner = null)
        : base($"{what} Where: {where}. To fix: {remedy}", inner)
    {
        What = what;
        Where = where;
        Remedy = remedy;
    }

    /// <summary>What is wrong.</summary>
    public string What { get; }

    /// <summary>Map, layer, cell or setting.</summary>
    public string Where { get; }

    /// <summary>What the user can do.</summary>
    public string Remedy { get; }
}
