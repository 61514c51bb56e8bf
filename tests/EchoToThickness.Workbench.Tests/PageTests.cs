using System.Text.RegularExpressions;
using EchoToThickness.Workbench.Serving;
using Xunit;

namespace EchoToThickness.Workbench.Tests;

/// <summary>The page's own files: complete, and such that the content security policy has nothing to forbid.</summary>
public sealed partial class PageTests
{
    private static string Text(string name)
    {
        Assert.True(Assets.TryGet(name, out byte[] bytes, out _), name);
        return System.Text.Encoding.UTF8.GetString(bytes);
    }

    [Fact]
    public void Page_NamesOnlyFilesThatAreThere()
    {
        foreach (
            string name in Assets.Names.Where(n =>
                n.EndsWith(".html", StringComparison.Ordinal) || n.EndsWith(".js", StringComparison.Ordinal)
            )
        )
        {
            string folder = name.Contains('/', StringComparison.Ordinal) ? name[..(name.LastIndexOf('/') + 1)] : "";
            string[] used = [.. Used().Matches(Text(name)).Select(m => m.Groups[1].Value)];
            Assert.All(used, file => Assert.True(Assets.TryGet(folder + file, out _, out _), $"{name} uses {file}"));
        }
        Assert.Equal(5, Used().Matches(Text("index.html")).Count);
    }

    [Fact]
    public void Page_HasNoScriptOrStyleInItsText()
    {
        string html = Text("index.html");
        // Nothing of its own leads elsewhere (the vendored library names its home page in a comment).
        string[] own =
        [
            .. Assets.Names.Where(n =>
                !n.StartsWith("vendor/", StringComparison.Ordinal) && !n.EndsWith(".svg", StringComparison.Ordinal)
            ),
        ];
        Assert.All(own, name => Assert.DoesNotMatch("https?://", Text(name)));
        Assert.DoesNotMatch(@"\son\w+\s*=|\sstyle\s*=|<style|<script(?![^>]*\bsrc=)|javascript:", html);
        foreach (string name in Assets.Names.Where(n => n.EndsWith(".js", StringComparison.Ordinal)))
            Assert.DoesNotMatch(@"\beval\(|new Function\(|\.innerHTML|insertAdjacentHTML|document\.write", Text(name));
    }

    [Fact]
    public void VendoredLibrary_CarriesItsLicence() =>
        Assert.Contains("Permission is hereby granted", Text("vendor/uplot-LICENSE.txt"), StringComparison.Ordinal);

    [GeneratedRegex(@"(?:href=""(?!#)|src=""|from ""\./|import\(""\./)([^""]+)""")]
    private static partial Regex Used();
}
