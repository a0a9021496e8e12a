using Architecture.Tests.Twins;
using ProofDesk.Printing.Methods;

namespace Architecture.Tests;

public sealed class HouseTests
{
    private static IEnumerable<string> References(System.Reflection.Assembly a) =>
        a.GetReferencedAssemblies().Select(r => r.Name!);

    [Fact]
    public void Imaging_and_Approvals_reference_nothing_of_ours_and_Printing_only_Imaging()
    {
        Assert.Empty(Rules.ForbiddenReferences("Imaging", References(House.Imaging)));
        Assert.Empty(Rules.ForbiddenReferences("Approvals", References(House.Approvals)));
        Assert.Empty(Rules.ForbiddenReferences("Printing", References(House.Printing), "ProofDesk.Imaging"));
    }

    [Fact]
    public void Twin_a_forbidden_reference_is_found()
    {
        Assert.Equal(
            ["Printing references ProofDesk.Adapters"],
            Rules.ForbiddenReferences(
                "Printing",
                ["ProofDesk.Imaging", "ProofDesk.Adapters", "System.Runtime"],
                "ProofDesk.Imaging"
            )
        );
    }

    [Fact]
    public void Pure_projects_touch_no_file_clock_network_log_or_environment()
    {
        Assert.Empty(House.Pure.SelectMany(a => Rules.ImpureCalls(a.Location, _ => true)));
    }

    [Fact]
    public void Twin_each_impure_call_is_found()
    {
        var found = Rules
            .ImpureCalls(typeof(ImpureOnPurpose).Assembly.Location, t => t.Name == nameof(ImpureOnPurpose))
            .ToArray();

        Assert.Equal(
            [
                "Architecture.Tests.Twins.ImpureOnPurpose.ReadsAFile uses System.IO.File.ReadAllBytes",
                "Architecture.Tests.Twins.ImpureOnPurpose.AsksTheTime uses System.DateTimeOffset.get_UtcNow",
                "Architecture.Tests.Twins.ImpureOnPurpose.DrawsUnseeded uses System.Random..ctor",
                "Architecture.Tests.Twins.ImpureOnPurpose.AsksTheEnvironment uses System.Environment.get_MachineName",
            ],
            found.Where(f => !f.Contains("Random.Next", StringComparison.Ordinal))
        );
    }

    [Fact]
    public void No_type_has_a_name_that_says_nothing()
    {
        Assert.Empty(Rules.VagueTypeNames(House.All.SelectMany(a => a.GetTypes())));
    }

    [Fact]
    public void Twin_a_vague_name_is_found()
    {
        Assert.Equal(
            [typeof(PlateManager).FullName!],
            Rules.VagueTypeNames([typeof(PlateManager), typeof(HouseTests)])
        );
    }

    [Fact]
    public void Pure_projects_remember_nothing_between_calls()
    {
        Assert.Empty(House.Pure.SelectMany(a => Rules.StaticState(a.GetTypes())));
    }

    [Fact]
    public void Twin_static_state_is_found()
    {
        Assert.Equal(
            [$"{typeof(RemembersOnPurpose).FullName}.s_calls"],
            Rules.StaticState([typeof(RemembersOnPurpose), typeof(HouseTests)])
        );
    }

    [Fact]
    public void Pointers_and_vectors_stay_in_the_rasters()
    {
        Assert.Empty(Rules.UnsafeOutsideRasters(House.Sources("src", ".cs")));
    }

    [Fact]
    public void Twin_vector_code_elsewhere_is_found()
    {
        Assert.Equal(
            ["src/ProofDesk.Printing/Presses/Fast.cs"],
            Rules.UnsafeOutsideRasters([
                ("src/ProofDesk.Printing/Presses/Fast.cs", "using System.Runtime.Intrinsics;"),
                ("src/ProofDesk.Imaging/Rasters/Fast.cs", "unsafe { }"),
                ("src/ProofDesk.Printing/Presses/Slow.cs", "var safe = true;"),
            ])
        );
    }

    [Fact]
    public void No_file_is_longer_than_600_lines()
    {
        Assert.Empty(Rules.TooLong(House.Sources("src", ".cs"), 600));
    }

    [Fact]
    public void Twin_a_long_file_is_found()
    {
        Assert.Equal(
            ["src/Long.cs has 601 lines, 600 is the limit"],
            Rules.TooLong([("src/Long.cs", new string('\n', 601)), ("src/Short.cs", "\n")], 600)
        );
    }

    [Fact]
    public void No_work_is_left_in_comments()
    {
        Assert.Empty(Rules.LeftOverWork(House.Sources("src", ".cs", ".js", ".css")));
    }

    [Fact]
    public void Twin_left_over_work_is_found()
    {
        Assert.Equal(
            ["a.cs", "b.cs"],
            Rules.LeftOverWork([
                ("a.cs", "x(); // TODO later"),
                ("b.cs", "throw new NotImplementedException();"),
                ("c.cs", "x();"),
            ])
        );
    }

    [Fact]
    public void No_view_holds_inline_script_style_or_handler()
    {
        Assert.Empty(Rules.InlineInViews(House.Sources("src/ProofDesk.Web", ".cshtml")));
    }

    [Fact]
    public void Twin_inline_code_in_a_view_is_found()
    {
        Assert.Equal(
            ["a.cshtml", "b.cshtml", "c.cshtml"],
            Rules.InlineInViews([
                ("a.cshtml", "<script>alert(1)</script>"),
                ("b.cshtml", "<p style=\"color:red\">"),
                ("c.cshtml", "<button onclick=\"go()\">"),
                ("d.cshtml", "<script src=\"/js/desk.js\" type=\"module\"></script>"),
            ])
        );
    }

    [Fact]
    public void Every_method_has_its_page_in_docs()
    {
        Assert.All(
            PrintMethods.All,
            m =>
                Assert.True(
                    File.Exists(Path.Combine(House.Root, "docs", "methods", m.Id + ".md")),
                    $"docs/methods/{m.Id}.md is missing"
                )
        );
    }
}
