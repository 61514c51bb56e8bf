using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Sections of a plan that lack what they need.</summary>
public static class StatisticsPlanCheck
{
    /// <summary>All faults of a plan, by key.</summary>
    /// <param name="plan">The plan.</param>
    public static IReadOnlyList<ProcedureFinding> Of(StatisticsPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var findings = new List<ProcedureFinding>();
        void Fault(string key, string what, string remedy) => findings.Add(new ProcedureFinding(key, what, remedy));
        if (plan.Design.PressurePascals > 0 && !(plan.Design.AllowableStressPascals > 0))
            Fault(
                "design.allowable_stress",
                "A pressure is given, but no allowable stress.",
                "write allowable_stress = \"138 MPa\" as the code gives it for material and temperature."
            );
        bool requires = plan.Design.PressurePascals > 0 || plan.Design.RequiredWallMetres is not null;
        if (plan.Averaging.On && !requires)
            Fault("averaging.on", "Averaging needs a required wall.", "give [design] pressure or required_wall.");
        if (plan.Life.On && !requires)
            Fault("life.on", "A remaining life needs a required wall.", "give [design] pressure or required_wall.");
        if (plan.Life.On && plan.Life.RateMetresPerYear is null && plan.Change.Earlier.Count == 0)
            Fault(
                "life.on",
                "A remaining life needs a rate.",
                "give life.rate, or earlier surveys in [[change.earlier]]."
            );
        if (plan.Regions.GrowMetres < plan.Regions.BelowMetres)
            Fault(
                "regions.grow_to",
                "Regions would grow to a thinner wall than they start from.",
                "give a wall at or above 'below'."
            );
        Change(plan.Change, Fault);
        for (int k = 0; k < plan.Extremes.Overrules.Count; k++)
        {
            HeadlinePlan o = plan.Extremes.Overrules[k];
            string key = string.Create(CultureInfo.InvariantCulture, $"extremes.overrule[{k + 1}]");
            if (string.IsNullOrWhiteSpace(o.Reason))
                Fault(key + ".reason", "A decision needs a reason.", "say why, in a sentence.");
            if (string.IsNullOrWhiteSpace(o.By))
                Fault(key + ".by", "A decision needs a name.", "say who decided.");
            if (ExtremesRun.ZoneNamed(o.Zone) is null && o.Zone.Length > 0)
                Fault(
                    key + ".zone",
                    $"'{o.Zone}' is no zone.",
                    "write one of: " + string.Join(", ", ExtremesRun.ZoneNames) + "; or leave it out."
                );
        }
        return findings;
    }

    private static void Change(ChangePlan change, Action<string, string, string> fault)
    {
        if (change.Earlier.Count == 0)
            return;
        bool known = ChangePlan.TryDate(change.Date, out DateOnly day);
        if (!known)
            fault(
                "change.date",
                change.Date.Length == 0 ? "The day of this survey is not given." : $"'{change.Date}' is no day.",
                "write date = \"2026-05-30\"; a rate needs the time between surveys."
            );
        var days = new HashSet<DateOnly>();
        for (int k = 0; k < change.Earlier.Count; k++)
        {
            string key = string.Create(CultureInfo.InvariantCulture, $"change.earlier[{k + 1}]");
            if (change.Earlier[k].Grid.Length == 0)
                fault(key + ".grid", "No grid is named.", "write grid = \"survey-2021.h5\".");
            if (!ChangePlan.TryDate(change.Earlier[k].Date, out DateOnly earlier))
                fault(key + ".date", $"'{change.Earlier[k].Date}' is no day.", "write date = \"2021-05-30\".");
            else if (known && earlier >= day)
                fault(
                    key + ".date",
                    $"{change.Earlier[k].Date} does not lie before {change.Date}.",
                    "give surveys before the one that is analysed."
                );
            else if (!days.Add(earlier))
                fault(key + ".date", $"{change.Earlier[k].Date} is given twice.", "give every survey once.");
        }
    }
}
