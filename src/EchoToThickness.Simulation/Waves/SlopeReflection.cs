namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// How much of a longitudinal wave a tilted piece of free wall reflects as a longitudinal wave, against one met squarely: 1 at slope 0, signed.
/// </summary>
/// <remarks>
/// <c>R_LL = (sin 2a sin 2b - k² cos² 2b) / (sin 2a sin 2b + k² cos² 2b)</c> with k = c_L/c_S and sin b = sin a / k; a is the slope's angle. The
/// rest leaves as shear. Source: Graff, Wave Motion in Elastic Solids, 6.1 (reflection at a free surface).
/// </remarks>
internal sealed class SlopeReflection
{
    private const int Nodes = 512;
    private const double SteepestRadians = 85 * Math.PI / 180;
    private readonly float[] _byTangent = new float[Nodes + 1];
    private readonly float _scale;

    /// <summary>Tabulates the coefficient over the square root of the slope.</summary>
    /// <param name="velocity">Longitudinal velocity.</param>
    /// <param name="shearVelocity">Shear velocity; 0: a fluid, which reflects whole at any slope.</param>
    public SlopeReflection(double velocity, double shearVelocity)
    {
        double steepest = Math.Tan(SteepestRadians);
        _scale = (float)(Nodes / Math.Sqrt(steepest));
        for (int i = 0; i <= Nodes; i++)
        {
            double root = i / (double)_scale;
            _byTangent[i] = (float)-Coefficient(Math.Atan(root * root), velocity, shearVelocity);
        }
    }

    /// <summary>R_LL of a free surface.</summary>
    /// <param name="angle">Angle of incidence, radians.</param>
    /// <param name="velocity">Longitudinal velocity.</param>
    /// <param name="shearVelocity">Shear velocity.</param>
    public static double Coefficient(double angle, double velocity, double shearVelocity)
    {
        if (!(shearVelocity > 0))
            return -1;
        double ratio = velocity / shearVelocity;
        double shear = Math.Asin(Math.Sin(angle) / ratio);
        double product = Math.Sin(2 * angle) * Math.Sin(2 * shear);
        double square = ratio * Math.Cos(2 * shear) * ratio * Math.Cos(2 * shear);
        return (product - square) / (product + square);
    }

    /// <summary>Reflection of a slope over that of a level wall.</summary>
    /// <param name="slopeSquared">Square of the slope.</param>
    public float At(float slopeSquared)
    {
        float position = MathF.Sqrt(MathF.Sqrt(slopeSquared)) * _scale;
        if (!(position < Nodes))
            return 0;
        int index = (int)position;
        return _byTangent[index] + (position - index) * (_byTangent[index + 1] - _byTangent[index]);
    }
}
