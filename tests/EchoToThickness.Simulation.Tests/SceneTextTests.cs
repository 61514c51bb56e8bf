using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Scenes;
using Xunit;

namespace EchoToThickness.Simulation.Tests;

public sealed class SceneTextTests
{
    [Fact]
    public void Read_WhatWriteGave_IsTheSameText()
    {
        string text = SceneText.Write(new Scene { Component = new ComponentSection { NominalWallMetres = 10e-3 } });
        Assert.Equal(text, SceneText.Write(SceneText.Read(text, "scene.toml").Value));
    }

    [Fact]
    public void Read_UnknownKey_SaysFileLineKeyAndNearestWord()
    {
        ProcedureException e = Assert.Throws<ProcedureException>(() =>
            SceneText.Read("[[wall.pit]]\ndiametre = \"5 mm\"\n", "s.toml")
        );
        Assert.Contains("s.toml(2,1)", e.Message, StringComparison.Ordinal);
        Assert.Contains("diameter", e.Remedy, StringComparison.Ordinal);
    }
}
