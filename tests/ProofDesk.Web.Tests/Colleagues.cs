using System.Net;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Tests;

/// <summary>People of every role, signed in through the page.</summary>
internal static class Colleagues
{
    /// <summary>A new account of that role, and a browser that is signed in with it.</summary>
    public static async Task<(Visitor Visitor, Guid Id, string Address)> ColleagueAsync(
        this RunningServer server,
        StaffRole role
    )
    {
        var id = Guid.CreateVersion7();
        var address = $"{role}-{id:N}@lindhag.example".ToLowerInvariant();
        await using (var scope = server.App.Services.CreateAsyncScope())
        {
            var made = await scope
                .ServiceProvider.GetRequiredService<UserManager<StaffUser>>()
                .CreateAsync(
                    new StaffUser
                    {
                        Id = id,
                        UserName = address,
                        Email = address,
                        EmailConfirmed = true,
                        DisplayName = $"{role} of the test",
                        Role = role,
                    },
                    RunningServer.Password
                );
            Assert.True(made.Succeeded, string.Join("; ", made.Errors.Select(e => e.Description)));
        }
        return (await server.SignedInAsync(address), id, address);
    }

    public static async Task<Visitor> SignedInAsync(
        this RunningServer server,
        string address,
        string password = RunningServer.Password
    )
    {
        var visitor = server.NewVisitor();
        var inside = await visitor.PostAsync(
            await visitor.GetAsync("/sign-in"),
            new() { ["Email"] = address, ["Password"] = password }
        );
        Assert.Equal(HttpStatusCode.Redirect, inside.Status);
        return visitor;
    }

    /// <summary>The page without what differs from one answer to the next.</summary>
    public static string Plain(this Page page) =>
        System.Text.RegularExpressions.Regex.Replace(page.Text, "nonce=\"[^\"]*\"|<code>[^<]*</code>", "");
}
