namespace EchoToThickness.Stacks.Sanity;

/// <summary>How much a finding matters to a thickness measured from the stack.</summary>
public enum SanitySeverity
{
    /// <summary>Worth knowing; nothing to put right.</summary>
    Note,

    /// <summary>Some cells are affected, or a rule of the procedure must allow for it.</summary>
    Warning,

    /// <summary>Thicknesses would be wrong; put it right before measuring.</summary>
    Fault,
}
