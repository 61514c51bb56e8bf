using System.Globalization;
using EchoToThickness.Studies.Tune;

namespace EchoToThickness.Reporting.Figures;

/// <summary>Which keys matter: bars of the shares of variance, alone and with others.</summary>
internal static class SharesFigure
{
    private const float Left = 330;
    private const float Width = 460;
    private const float RowHeight = 44;

    /// <summary>Draws the figure.</summary>
    /// <param name="report">What the search found; its sensitivity is there.</param>
    /// <param name="path">.png or .svg.</param>
    public static void Save(TuneReport report, string path)
    {
        Sensitivity sensitivity = report.Sensitivity!;
        IReadOnlyList<VaryAxis> axes = report.Plan.Axes;
        int[] order = [.. Enumerable.Range(0, axes.Count).OrderByDescending(i => sensitivity.Shares.Total[i])];
        const float top = 140;
        using var sheet = new FigureSheet(
            (int)(Left + Width + 120),
            (int)(top + RowHeight * axes.Count + 70),
            "Which keys matter",
            report.Plan.Study.Header.Name
        );
        sheet.Text(
            string.Create(
                CultureInfo.InvariantCulture,
                $"Shares of the variance of the logarithm of the loss; surrogate of {sensitivity.RuleSets} rule sets, predicts {100 * sensitivity.LeaveOneOut:0} %."
            ),
            24,
            80,
            Ink.Quiet
        );
        double largest = Math.Max(0.05, sensitivity.Shares.Total.Max());
        sheet.Rectangle(Left, 102, 18, 12, Ink.Interface);
        sheet.Text("the key alone", Left + 26, 113, Ink.Text);
        sheet.Rectangle(Left + 170, 102, 18, 12, Ink.Raw);
        sheet.Text("with others", Left + 196, 113, Ink.Text);
        for (int row = 0; row < order.Length; row++)
        {
            int i = order[row];
            float y = top + row * RowHeight;
            string name = axes[i].Name;
            sheet.Text(
                name.Length > 40 ? name[..39] + "…" : name,
                Left - 14,
                y + 22,
                Ink.Text,
                align: SkiaSharp.SKTextAlign.Right
            );
            Bar(sensitivity.Shares.Total[i], y + 2, 30, Ink.Raw);
            Bar(sensitivity.Shares.First[i], y + 9, 16, Ink.Interface);
            sheet.Text(
                string.Create(CultureInfo.InvariantCulture, $"{100 * Math.Max(0, sensitivity.Shares.Total[i]):0.0} %"),
                Left + (float)(Width * Math.Max(0, sensitivity.Shares.Total[i]) / largest) + 8,
                y + 22,
                Ink.Quiet
            );
        }
        sheet.Lines([(Left, top - 6, Left, top + RowHeight * order.Length)], Ink.Text, 1);
        sheet.Save(path);

        void Bar(double share, float y, float height, ScottPlot.Color colour) =>
            sheet.Rectangle(Left, y, (float)(Width * Math.Max(0, share) / largest), height, colour);
    }
}
