using EchoToThickness.Procedures;
using Xunit;

namespace EchoToThickness.Tests.Procedures;

public sealed class ShippedProceduresTests
{
    public static TheoryData<string> Files =>
        [
            .. Directory
                .GetFiles(RepositoryFiles.PathOf("testdata", "procedures"), "*.toml")
                .Select(f => Path.GetFileName(f))
                .Order(StringComparer.Ordinal),
        ];

    [Theory]
    [MemberData(nameof(Files))]
    public void Parse_ShippedProcedure_IsSoundAndSurvivesWriting(string file)
    {
        Procedure procedure = ProcedureText.Parse(
            File.ReadAllText(RepositoryFiles.PathOf("testdata", "procedures", file)),
            file
        );
        Procedure back = ProcedureText.Parse(ProcedureText.Write(procedure, withComments: true), file);
        Assert.Equal(ProcedureText.Sha256(procedure), ProcedureText.Sha256(back));
    }
}
