using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.Abstractions;
using Microsoft.AspNetCore.Mvc.Filters;
using Microsoft.AspNetCore.Mvc.ModelBinding;
using Microsoft.AspNetCore.Routing;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Primitives;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Tests;

/// <summary>A full disk is told to the visitor with the form kept; that a disk which is full says this is tested in Adapters.</summary>
public sealed class FullDiskAnswerTests
{
    public static TheoryData<Exception> FullDisks =>
        new()
        {
            new SqliteException("database or disk is full", 13),
            new DbUpdateException("not saved", new SqliteException("database or disk is full", 13)),
            new IOException("No space left on device", 28),
        };

    [Theory, MemberData(nameof(FullDisks))]
    public void A_full_disk_is_a_503_with_the_form_kept(Exception failure)
    {
        var http = new DefaultHttpContext();
        http.Request.Method = "POST";
        http.Request.Path = "/review/1/decision";
        http.Request.ContentType = "application/x-www-form-urlencoded";
        http.Request.Form = new FormCollection(
            new Dictionary<string, StringValues> { ["Name"] = "Kim Reed", ["__RequestVerificationToken"] = "t" }
        );
        var context = new ExceptionContext(new ActionContext(http, new RouteData(), new ActionDescriptor()), [])
        {
            Exception = failure,
        };

        new BusyFilter(new EmptyModelMetadataProvider(), NullLogger<BusyFilter>.Instance).OnException(context);

        var view = Assert.IsType<ViewResult>(context.Result);
        var page = Assert.IsType<Busy>(view.Model);
        Assert.True(context.ExceptionHandled);
        Assert.Equal((503, "120"), (view.StatusCode, http.Response.Headers.RetryAfter.ToString()));
        Assert.Equal(
            "Our disk is full. Nothing was written of what you sent; it is kept below. We are told of it; please try again later or telephone us.",
            page.Text
        );
        Assert.Equal(("/review/1/decision", ("Name", "Kim Reed")), (page.Action, Assert.Single(page.Fields)));
    }

    [Fact]
    public void Any_other_failure_is_left_to_the_page_for_failures()
    {
        var context = new ExceptionContext(
            new ActionContext(new DefaultHttpContext(), new RouteData(), new ActionDescriptor()),
            []
        )
        {
            Exception = new IOException("gone", 5),
        };

        new BusyFilter(new EmptyModelMetadataProvider(), NullLogger<BusyFilter>.Instance).OnException(context);

        Assert.False(context.ExceptionHandled);
    }
}
