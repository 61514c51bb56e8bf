using System.Globalization;
using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>The rules behind <see cref="ProcedureCheck.Consistency"/>.</summary>
internal static class ConsistencyRules
{
    public static void Check(Procedure procedure, List<ProcedureFinding> findings)
    {
        void Fault(string key, string what, string remedy) => findings.Add(new ProcedureFinding(key, what, remedy));
        Conditioning(procedure.Conditioning, Fault);
        Interface(procedure, Fault);
        for (int gate = 0; gate < procedure.Gates.Count; gate++)
            Gate(procedure, gate, Fault);
        Wall(procedure.Wall, Fault);
        Pairing(procedure, Fault);
        EstimationRules.Check(procedure, Fault);
        Velocity(procedure, Fault);
    }

    /// <summary>The train rule has a filter and an interface rule of its own: settings that it would pass over are refused, not ignored.</summary>
    public static void Unused(Procedure procedure, List<ProcedureFinding> findings)
    {
        void Fault(string key, string what, string remedy) => findings.Add(new ProcedureFinding(key, what, remedy));
        if (procedure.Pairing.Rule != PairingRule.Train)
        {
            if (procedure.Map.Choice != MapChoice.Off)
                Fault(
                    "map.choice",
                    "The choice over the map weighs hypotheses about whole echo trains, which gates do not give.",
                    "write rule = \"train\" in [pairing], or choice = \"off\"."
                );
            return;
        }
        if (procedure.Map.Choice != MapChoice.Off && procedure.Estimation.Method != EstimationMethod.Train)
            Fault(
                "map.choice",
                "The choice over the map times whole echo trains; another estimation method gives none to choose from.",
                "write method = \"train\" in [estimation], or choice = \"off\"."
            );
        var conditioning = new ConditioningSettings();
        if (
            procedure.Conditioning with
            {
                RemoveOffset = conditioning.RemoveOffset,
                SaturationSamples = conditioning.SaturationSamples,
            } != conditioning
        )
            Fault(
                "conditioning",
                "The pairing rule 'train' filters about the nominal frequency and looks at the rf signal by itself.",
                "leave out band, taps, signal and averages, or use pairing rule 'difference' or 'agreement' with gates."
            );
        var search = new InterfaceSettings();
        if (procedure.Interface with { SearchStartSeconds = null, SearchEndSeconds = null } != search)
            Fault(
                "interface",
                "The pairing rule 'train' weighs interface and walls together; of [interface] it uses search_start and search_end only.",
                "leave out the other keys (train.interface_fraction says what may be an interface), or use gates with 'difference' or 'agreement'."
            );
        if (procedure.Gates.Count > 0)
            Fault(
                "gate[1]",
                "The pairing rule 'train' uses no gates.",
                "leave them out, or write rule = \"difference\" or \"agreement\" in [pairing]."
            );
    }

    private static void Conditioning(ConditioningSettings c, Action<string, string, string> fault)
    {
        if (c.BandLowHz is null != c.BandHighHz is null)
        {
            string given = c.BandLowHz is null ? "band_high" : "band_low";
            string missing = c.BandLowHz is null ? "band_low" : "band_high";
            fault(
                "conditioning." + given,
                $"'{given}' is given without '{missing}'.",
                "give both edges of the band, or leave out both for no filter."
            );
        }
        if (c.BandLowHz is { } low && c.BandHighHz is { } high && low >= high)
            fault(
                "conditioning.band_high",
                $"The band ends at {Frequency(high)}, not above its start at {Frequency(low)}.",
                "make band_high larger than band_low."
            );
        Odd("conditioning.taps", c.Taps, fault);
        Odd("conditioning.average_beams", c.AverageBeams, fault);
        Odd("conditioning.average_scans", c.AverageScans, fault);
    }

    private static void Odd(string key, int value, Action<string, string, string> fault)
    {
        if (value % 2 == 0)
            fault(
                key,
                $"{key.Split('.')[1]} = {Text(value)} is even; only an odd number is centred on its A-scan or sample.",
                $"write {Text(value - 1)} or {Text(value + 1)}."
            );
    }

    private static void Interface(Procedure procedure, Action<string, string, string> fault)
    {
        InterfaceSettings s = procedure.Interface;
        if (s.SearchStartSeconds is { } start && s.SearchEndSeconds is { } end && end <= start)
            fault(
                "interface.search_end",
                $"The search ends at {Time(end)}, not behind its start at {Time(start)}.",
                "make search_end later than search_start."
            );
        if (s.Level.Reference == LevelReference.Followed)
            fault(
                "interface.level",
                "The interface follows no earlier echo, so its level cannot be relative to one.",
                "write the level relative to full scale, the strongest signal or the noise."
            );
        else
            Level("interface.level", s.Level, fault);
        if (s.Polarity is PolarityChoice.Opposite or PolarityChoice.Same)
            fault(
                "interface.polarity",
                "The interface follows no earlier echo, so its sign cannot be compared with one.",
                "write \"positive\", \"negative\" or \"either\"."
            );
        Phase("interface", s.Pick, s.Polarity, s.FlankFraction, procedure.Conditioning.Signal, fault);
        if (s.Track != TrackRule.None && s.MaxJumpSeconds <= 0)
            fault(
                "interface.max_jump",
                "Tracking with max_jump = 0 allows no change of the interface at all.",
                "write the largest believable change between neighbours, such as max_jump = \"0.2 us\"."
            );
    }

    private static void Gate(Procedure procedure, int index, Action<string, string, string> fault)
    {
        GateSettings gate = procedure.Gates[index];
        string path = string.Create(CultureInfo.InvariantCulture, $"gate[{index + 1}]");
        string[] earlier = procedure.Gates.Take(index).Select(g => g.Name).ToArray();
        if (gate.Name is "" or GateSettings.Interface or GateSettings.Pulse)
            fault(
                path + ".name",
                gate.Name.Length == 0 ? "The gate has no name." : $"The name '{gate.Name}' is reserved.",
                "give the gate a name of its own, such as name = \"wall1\"."
            );
        else if (earlier.Contains(gate.Name))
            fault(path + ".name", $"An earlier gate is already called '{gate.Name}'.", "give each gate its own name.");
        if (gate.Follows is not (GateSettings.Interface or GateSettings.Pulse) && !earlier.Contains(gate.Follows))
            fault(path + ".follows", Unfollowable(procedure, index), FollowRemedy(gate.Follows, earlier));
        if (gate.Width.Value <= 0)
            fault(path + ".width", $"The gate's width is {gate.Width}.", "make the width larger than zero.");
        bool onPulse = gate.Follows == GateSettings.Pulse;
        if (onPulse && gate.Start.Value < 0)
            fault(
                path + ".start",
                $"The gate starts {gate.Start}, before the pulse it follows.",
                "start at 0 us or later."
            );
        if (onPulse && gate.Level.Reference == LevelReference.Followed)
            fault(
                path + ".level",
                "The pulse has no measured amplitude, so a level cannot be relative to it.",
                "write the level relative to full scale, the strongest signal or the noise."
            );
        else
            Level(path + ".level", gate.Level, fault);
        if (onPulse && gate.Polarity is (PolarityChoice.Opposite or PolarityChoice.Same))
            fault(
                path + ".polarity",
                "The pulse has no measured sign, so an echo's sign cannot be compared with it.",
                "write \"positive\", \"negative\" or \"either\"."
            );
        Phase(path, gate.Pick, gate.Polarity, gate.FlankFraction, procedure.Conditioning.Signal, fault);
        for (int point = 1; point < gate.LevelByDepth.Count; point++)
            if (gate.LevelByDepth[point].DepthMetres <= gate.LevelByDepth[point - 1].DepthMetres)
                fault(
                    string.Create(CultureInfo.InvariantCulture, $"{path}.level_by_depth[{point + 1}].depth"),
                    $"The depth {Length(gate.LevelByDepth[point].DepthMetres)} does not lie behind the point before it.",
                    "list the points by increasing depth, each depth once."
                );
    }

    private static string Unfollowable(Procedure procedure, int index)
    {
        GateSettings gate = procedure.Gates[index];
        return gate.Follows == gate.Name ? $"The gate '{gate.Name}' follows itself."
            : procedure.Gates.Skip(index + 1).Any(g => g.Name == gate.Follows)
                ? $"The gate '{gate.Name}' follows '{gate.Follows}', which comes later."
            : $"The gate '{gate.Name}' follows '{gate.Follows}', which is no gate.";
    }

    private static string FollowRemedy(string follows, string[] earlier)
    {
        string[] allowed = [GateSettings.Interface, GateSettings.Pulse, .. earlier];
        string? near = Suggestion.For(follows, allowed);
        return (near is null ? "" : $"did you mean '{near}'? ")
            + "A gate may follow: "
            + string.Join(", ", allowed.Select(name => $"'{name}'"))
            + "; list the gate that is followed first.";
    }

    private static void Level(string key, LevelRule level, Action<string, string, string> fault)
    {
        if (!(level.Ratio > 0) || !double.IsFinite(level.Ratio))
            fault(key, "The level is not above zero.", "write a level such as \"5 x noise\".");
        else if (level.Ratio > 1 && level.Reference is (LevelReference.FullScale or LevelReference.Strongest))
            fault(
                key,
                $"No signal can reach {level.ToText()}.",
                level.Reference == LevelReference.FullScale
                    ? "write at most \"100 % of full scale\"."
                    : "write at most \"0 dB of strongest\"."
            );
    }

    private static void Phase(
        string path,
        PickRule pick,
        PolarityChoice polarity,
        double? flankFraction,
        SignalChoice signal,
        Action<string, string, string> fault
    )
    {
        if (flankFraction is not null && pick != PickRule.Flank)
            fault(
                path + ".flank_fraction",
                $"flank_fraction is given, but the pick is \"{Word(pick)}\".",
                "leave flank_fraction out, or write pick = \"flank\"."
            );
        if (signal == SignalChoice.RadioFrequency)
            return;
        if (pick is PickRule.ZeroCrossing or PickRule.Correlation)
            fault(
                path + ".pick",
                $"The pick \"{Word(pick)}\" needs the sign of the signal, which the {Word(signal)} signal has lost.",
                "write conditioning.signal = \"rf\", or pick = \"flank\", \"peak\" or \"envelope-peak\"."
            );
        if (polarity != PolarityChoice.Either)
            fault(
                path + ".polarity",
                $"The polarity \"{Word(polarity)}\" needs the sign of the signal, which the {Word(signal)} signal has lost.",
                "write conditioning.signal = \"rf\", or polarity = \"either\"."
            );
    }

    private static void Wall(WallSettings wall, Action<string, string, string> fault)
    {
        if (wall.MinimumMetres >= wall.MaximumMetres)
            fault(
                "wall.maximum",
                $"The range of walls ends at {Length(wall.MaximumMetres)}, not above its start at {Length(wall.MinimumMetres)}.",
                "make wall.maximum larger than wall.minimum."
            );
        else if (wall.NominalMetres is { } nominal && (nominal < wall.MinimumMetres || nominal > wall.MaximumMetres))
            fault(
                "wall.nominal",
                $"The nominal wall {Length(nominal)} lies outside the range {Length(wall.MinimumMetres)} to {Length(wall.MaximumMetres)} that is looked for.",
                "widen wall.minimum and wall.maximum, or correct wall.nominal."
            );
    }

    private static void Pairing(Procedure procedure, Action<string, string, string> fault)
    {
        PairingSettings pairing = procedure.Pairing;
        string[] gates = procedure.Gates.Select(g => g.Name).ToArray();
        void Known(string key, string name, bool interfaceToo)
        {
            if (gates.Contains(name) || (interfaceToo && name == GateSettings.Interface))
                return;
            string[] allowed = interfaceToo ? [GateSettings.Interface, .. gates] : gates;
            string? near = Suggestion.For(name, allowed);
            fault(
                "pairing." + key,
                $"'{name}' is no gate.",
                (near is null ? "" : $"did you mean '{near}'? ")
                    + (
                        allowed.Length == 0
                            ? "define a [[gate]] of that name."
                            : "allowed here: " + string.Join(", ", allowed.Distinct().Select(n => $"'{n}'")) + "."
                    )
            );
        }
        if (pairing.Rule == PairingRule.Difference)
        {
            if (pairing.To.Length == 0)
                fault(
                    "pairing.to",
                    "The rule \"difference\" needs the echo that the difference ends at.",
                    "write to = \"...\" with the name of a gate."
                );
            else
                Known("to", pairing.To, interfaceToo: false);
            Known("from", pairing.From, interfaceToo: true);
            if (pairing.To.Length > 0 && pairing.From == pairing.To)
                fault(
                    "pairing.to",
                    $"The difference of '{pairing.To}' with itself is always zero.",
                    "name two echoes."
                );
        }
        else if (pairing.To.Length > 0)
        {
            fault(
                "pairing.to",
                $"'to' is used by the rule \"difference\" only; the rule is \"{Word(pairing.Rule)}\".",
                "write rule = \"difference\", or leave 'to' out."
            );
        }
        if (pairing.FirstWall.Length > 0)
            Known("first_wall", pairing.FirstWall, interfaceToo: false);
        if (pairing.SecondWall.Length > 0)
            Known("second_wall", pairing.SecondWall, interfaceToo: false);
        if (pairing.FirstWall.Length > 0 && pairing.FirstWall == pairing.SecondWall)
            fault(
                "pairing.second_wall",
                "Both walls are taken from the same gate.",
                "name the gate of back-wall echo 2."
            );
        if (pairing.Rule == PairingRule.Agreement && gates.Length < 2)
            fault(
                "pairing.rule",
                "The rule \"agreement\" compares two spacings and needs gates on back-wall echo 1 and 2.",
                "define two [[gate]] sections, or write rule = \"train\"."
            );
    }

    private static void Velocity(Procedure procedure, Action<string, string, string> fault)
    {
        VelocitySettings velocity = procedure.Velocity;
        bool calibrated = velocity.Calibration.Count >= 2 && velocity.ValueMetresPerSecond is null;
        if (calibrated && procedure.Correction.ZeroSeconds != 0)
            fault(
                "correction.zero",
                "The zero offset comes from the calibration points and is given here once more.",
                "leave correction.zero out, or give velocity.value."
            );
        for (int i = 0; i < velocity.Calibration.Count; i++)
        {
            CalibrationPoint point = velocity.Calibration[i];
            if (point.ThicknessUncertaintyMetres == 0 && point.TimeUncertaintySeconds == 0)
                fault(
                    string.Create(CultureInfo.InvariantCulture, $"velocity.calibration[{i + 1}].time_uncertainty"),
                    "A calibration point without any uncertainty cannot be weighted.",
                    "give time_uncertainty or thickness_uncertainty above zero."
                );
        }
    }

    private static string Word<T>(T value)
        where T : struct, Enum => KeyDescription.ChoicesOf(typeof(T)).First(c => c.Value.Equals(value)).Choice.Word;

    private static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Time(double value) => UnitText.Format(value, Dimension.Time);

    private static string Length(double value) => UnitText.Format(value, Dimension.Length);

    private static string Frequency(double value) => UnitText.Format(value, Dimension.Frequency);
}
