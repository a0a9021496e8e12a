using Microsoft.AspNetCore.Mvc;

namespace ProofDesk.Web.Layout;

/// <summary>The same form once more, with what was typed and what is to be mended.</summary>
internal static class FormAnswers
{
    public static ViewResult Again(this Controller controller, string view, object model)
    {
        controller.ToMend();
        return controller.View(view, model);
    }

    /// <summary>Says that the page which follows is a form to be mended.</summary>
    public static void ToMend(this Controller controller) =>
        controller.Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
}
