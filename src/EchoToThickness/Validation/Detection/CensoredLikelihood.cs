using EchoToThickness.Validation.Numerics;
using MathNet.Numerics.LinearAlgebra;

namespace EchoToThickness.Validation.Detection;

/// <summary>
/// Normal regression with censored values in the form of Olsen (Econometrica 46, 1978): with h = 1/s and d = b/s the log-likelihood
/// <c>sum ln h - (h y - d'x)²/2 + sum ln Phi(h L - d'x) + sum ln Phi(d'x - h R)</c> is concave, and Newton's method finds its only maximum.
/// </summary>
internal sealed class CensoredLikelihood(double[] x, double[] y, int[] censor)
{
    /// <summary>Value, score and negative second derivatives for (d0, d1, h).</summary>
    public double Evaluate(
        double[] q,
        Vector<double>? score,
        Matrix<double>? information,
        Action<int, double, double, double>? each = null
    )
    {
        double h = q[2];
        if (!(h > 0))
            return double.NegativeInfinity;
        double value = 0;
        score?.Clear();
        information?.Clear();
        Span<double> d = stackalloc double[3];
        for (int i = 0; i < x.Length; i++)
        {
            double r = h * y[i] - q[0] - q[1] * x[i];
            // Derivatives of r by (d0, d1, h) are (-1, -x, y).
            double slope;
            double curve;
            double extra = 0;
            if (censor[i] == 0)
            {
                value += Math.Log(h) - 0.5 * r * r - 0.5 * Math.Log(2 * Math.PI);
                slope = -r;
                curve = 1;
                extra = 1 / h;
            }
            else
            {
                double side = -censor[i] * r;
                value += NormalTail.LogBelow(side);
                double mills = NormalTail.MillsInverse(side);
                slope = -censor[i] * mills;
                curve = mills * (mills + side);
            }
            d[0] = -1;
            d[1] = -x[i];
            d[2] = y[i];
            each?.Invoke(i, slope * d[0], slope * d[1], slope * d[2] + extra);
            if (score == null || information == null)
                continue;
            for (int a = 0; a < 3; a++)
            {
                score[a] += slope * d[a];
                for (int b = 0; b < 3; b++)
                    information[a, b] += curve * d[a] * d[b];
            }
            score[2] += extra;
            information[2, 2] += extra * extra;
        }
        return value;
    }

    /// <summary>Newton with halved steps along directions: the columns of <paramref name="free"/> from a start point.</summary>
    public (double[] Point, double Value, bool Settled) Maximise(double[] start, Matrix<double> free)
    {
        double[] q = (double[])start.Clone();
        var score = Vector<double>.Build.Dense(3);
        var information = Matrix<double>.Build.Dense(3, 3);
        double value = Evaluate(q, score, information);
        for (int iteration = 0; iteration < 200; iteration++)
        {
            Vector<double> g = free.TransposeThisAndMultiply(score);
            Matrix<double> inner = free.TransposeThisAndMultiply(information * free);
            Vector<double> step = free * inner.Solve(g);
            double part = 1;
            double[] trial;
            double at;
            do
            {
                trial = [q[0] + part * step[0], q[1] + part * step[1], q[2] + part * step[2]];
                at = Evaluate(trial, null, null);
                if (at >= value - 1e-13 * Math.Abs(value))
                    break;
                part /= 2;
            } while (part > 1e-12);
            double moved = step.AbsoluteMaximum();
            q = trial;
            value = Evaluate(q, score, information);
            if (!double.IsFinite(value) || !double.IsFinite(moved))
                return (q, value, false);
            if (moved <= 1e-10 * (1 + Math.Abs(q[2])))
                return (q, value, true);
        }
        return (q, value, false);
    }
}
