using System.Diagnostics;
using System.Globalization;

namespace EchoToThickness.Cli.Terminal;

/// <summary>Shows how far a run is: one line that is redrawn on a terminal, a line every ten seconds elsewhere.</summary>
public sealed class ProgressLine : IDisposable
{
    private const int BarWidth = 24;
    private readonly Talk _talk;
    private readonly string _doing;
    private readonly Stopwatch _watch = Stopwatch.StartNew();
    private readonly Lock _lock = new();
    private double _nextSeconds;
    private bool _drawn;

    /// <summary>Starts the clock.</summary>
    /// <param name="talk">Where to show it.</param>
    /// <param name="doing">What is going on, for instance "measuring".</param>
    public ProgressLine(Talk talk, string doing)
    {
        ArgumentNullException.ThrowIfNull(talk);
        _talk = talk;
        _doing = doing;
        _nextSeconds = talk.IsTerminal ? 0.3 : 10;
    }

    /// <summary>Time since the start.</summary>
    public TimeSpan Elapsed => _watch.Elapsed;

    /// <summary>Takes note of work done; may be called from any thread.</summary>
    /// <param name="done">A-scans done.</param>
    /// <param name="total">A-scans in all.</param>
    public void Report(long done, long total)
    {
        if (_watch.Elapsed.TotalSeconds < Volatile.Read(ref _nextSeconds))
            return;
        lock (_lock)
        {
            double seconds = _watch.Elapsed.TotalSeconds;
            if (seconds < _nextSeconds)
                return;
            Volatile.Write(ref _nextSeconds, seconds + (_talk.IsTerminal ? 0.2 : 10));
            string line = Line(_doing, done, total, seconds, _talk.IsTerminal);
            _talk.Words.Write(_talk.IsTerminal ? "\r" + line.PadRight(Talk.Columns - 1) : line + "\n");
            _talk.Words.Flush();
            _drawn = _talk.IsTerminal;
        }
    }

    /// <summary>Wipes the line.</summary>
    public void Dispose()
    {
        lock (_lock)
        {
            _nextSeconds = double.PositiveInfinity;
            if (_drawn)
                _talk.Words.Write("\r" + new string(' ', Talk.Columns - 1) + "\r");
            _drawn = false;
        }
    }

    /// <summary>The text of a line.</summary>
    /// <param name="doing">What is going on.</param>
    /// <param name="done">A-scans done.</param>
    /// <param name="total">A-scans in all.</param>
    /// <param name="seconds">Seconds since the start.</param>
    /// <param name="bar">Whether to draw a bar.</param>
    public static string Line(string doing, long done, long total, double seconds, bool bar)
    {
        double part = total > 0 ? (double)done / total : 1;
        double rate = done / Math.Max(seconds, 1e-9);
        double left = rate > 0 ? (total - done) / rate : double.PositiveInfinity;
        int full = (int)(part * BarWidth);
        string drawing = bar ? $"[{new string('=', full)}{new string(' ', BarWidth - full)}] " : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{doing} {drawing}{Math.Floor(100 * part):F0} %, {Rate(rate)}, {Duration(left)} left"
        );
    }

    /// <summary>A rate in words.</summary>
    /// <param name="perSecond">A-scans a second.</param>
    public static string Rate(double perSecond) =>
        perSecond >= 1e6 ? string.Create(CultureInfo.InvariantCulture, $"{perSecond / 1e6:F1} M A-scans/s")
        : perSecond >= 1e4 ? string.Create(CultureInfo.InvariantCulture, $"{perSecond / 1e3:F0} k A-scans/s")
        : string.Create(CultureInfo.InvariantCulture, $"{perSecond:F0} A-scans/s");

    /// <summary>A duration in words.</summary>
    /// <param name="seconds">Seconds.</param>
    public static string Duration(double seconds) =>
        seconds >= 3600
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"{Math.Floor(seconds / 3600):F0} h {Math.Floor(seconds / 60 % 60):F0} min"
            )
        : seconds >= 60
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"{Math.Floor(seconds / 60):F0} min {Math.Floor(seconds % 60):F0} s"
            )
        : seconds >= 10 ? string.Create(CultureInfo.InvariantCulture, $"{seconds:F0} s")
        : string.Create(CultureInfo.InvariantCulture, $"{seconds:0.##} s");
}
