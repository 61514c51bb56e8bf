using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>The page docs/study-reference.md, made from the descriptions that the parser itself reads.</summary>
public static class StudyReference
{
    /// <summary>The page, Markdown with line feeds.</summary>
    public static string Page() =>
        ReferencePage.Of(
            typeof(CompareStudy),
            "Study reference",
            "A study is a TOML file for `ett compare`. Every quantity is text with its unit (`\"8.6 mm\"`); a key that is left out has its "
                + "default; an unknown key is an error. How studies are written and read: [studies](studies.md); examples in "
                + "[studies/](studies/). This page is made from the descriptions that the parser itself reads: run the tests with "
                + "`ETT_WRITE_DOCS=1` to write it anew."
        );
}
