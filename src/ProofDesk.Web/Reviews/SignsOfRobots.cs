using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Reviews;

/// <summary>Looks at how an answer came. The list goes with the answer; it is never a reason to refuse one.</summary>
public sealed class SignsOfRobots(Invitations invitations, FormStamp stamps, ServerSettings settings)
{
    public async Task<IReadOnlyList<string>> OfAsync(Guid invitation, ReviewForm form, CancellationToken cancel)
    {
        var signs = new List<string>();
        if (!string.IsNullOrEmpty(form.Extra))
            signs.Add(RobotSigns.HiddenField);
        if (form.Trap)
            signs.Add(RobotSigns.HiddenBox);
        if (stamps.Age(invitation, form.Opened) is not { } age)
            signs.Add(RobotSigns.NoForm);
        else if (age < TimeSpan.FromSeconds(settings.LeastLookSeconds))
            signs.Add(RobotSigns.TooQuick);
        if (!await invitations.WasShownAsync(invitation, cancel))
            signs.Add(RobotSigns.NeverLooked);
        return signs;
    }
}
