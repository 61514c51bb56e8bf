using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>A method ready to measure.</summary>
/// <param name="Name">Name in tables.</param>
/// <param name="Procedure">The procedure, changes of the study made; only the layers that a score needs.</param>
/// <param name="ProcedureSha256">SHA-256 of its canonical text.</param>
/// <param name="Bound">Which echoes its bound may use; null: the source's own choice.</param>
/// <param name="Place">Where it is written, for messages.</param>
public sealed record StudyMethod(
    string Name,
    Procedure Procedure,
    string ProcedureSha256,
    BoundChoice? Bound,
    string Place
);
