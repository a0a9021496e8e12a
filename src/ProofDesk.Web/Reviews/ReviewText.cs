namespace ProofDesk.Web.Reviews;

/// <summary>Every sentence a client reads on these pages. One file, so that a second language is one more file.</summary>
public static class ReviewText
{
    // Links
    public const string IncompleteTitle = "This link is incomplete";
    public const string Incomplete =
        "Some characters at its end are missing: mail programs sometimes break a long line. Copy the whole address from the mail, or ask us to send it again.";
    public const string GoneTitle = "This link is no longer in use";
    public const string Revoked = "We have called it back. Ask us for a new one.";
    public const string Expired = "Its time is over. Ask us for a new one.";

    public const string AskNewLink = "Ask for a new link";
    public const string AskedNewLinkTitle = "We know that you want a new link";
    public const string AskedNewLink = "One of us will look and mail it to the address your link was for.";

    // The printed sample
    public const string SampleTitle = "The printed sample";
    public const string SampleHint =
        "We have printed one before the run. Look at its photograph, or at the shirt itself if you have it, and answer once more.";
    public const string ApproveSample = "Approve the sample…";

    // Passing on, reminders
    public const string PassOnTitle = "Somebody else should look";
    public const string PassOnHint =
        "They get a link of their own by mail. The record names both of you; the shop sees whom you asked.";
    public const string PassOnAddress = "Their mail address";
    public const string PassOnName = "Their name";
    public const string PassOn = "Send them a link";
    public const string PassedOn = "A link is on its way to";
    public const string RemindersTitle = "Reminders";
    public const string RemindersHint = "We remind you at most three times while an answer is open.";
    public const string StopReminders = "Send me no more reminders";
    public const string StoppedReminders = "You will get no more reminders about this order. The link goes on working.";
    public const string SecondHint = "Two people must say yes before this is printed. You are the second.";

    // Look
    public const string AnswerBy = "Please answer by";
    public const string Approve = "Approve…";
    public const string AskForChanges = "Ask for changes";
    public const string NothingYet = "Nothing is decided by opening this page.";
    public const string Newer =
        "This is a newer version than the one your mail was about. It takes the place of the earlier one.";
    public const string Look = "What you will get";
    public const string Words = "Words";
    public const string WordsHint = "Read them letter by letter: spelling is the mistake that costs most.";
    public const string NoWords = "There are no words in this art.";
    public const string SizeAndPlace = "Size and place";
    public const string Place = "Place";
    public const string Width = "Width of the print";
    public const string Height = "Height of the print";
    public const string FromSeam = "From the collar seam down";
    public const string FromHem = "From the sleeve hem up";
    public const string FromCentre = "From the centre line";
    public const string Centred = "centred";
    public const string WearersLeft = "towards the wearer's left";
    public const string WearersRight = "towards the wearer's right";
    public const string Tolerance =
        "Garments are laid on the press by hand: allow 10 to 12 mm and one and a half degrees either way.";
    public const string Garments = "Garments and counts";
    public const string Colours = "Colours and their range";
    public const string RangeHint =
        "No press lays ink twice the same. Your shirts will fall between the left and the right picture; the middle one is what we expect.";
    public const string ShirtsTitle = "Shirts of one run";

    public static string ShirtsHint(int count, string window, string usual, string worst) =>
        $"The spot where most inks meet, {window} square, on {count} shirts of one run. Two inks miss each other there by {usual} mm on the usual shirt and {worst} mm on the worst. The mark in the square under each says where the shirt was loaded; the square is 30 mm wide.";

    public static string EndsApart(string deltaE) => $"the two ends are {deltaE} ΔE00 apart";

    public const string Lighter = "Light end";
    public const string Expected = "Expected";
    public const string Heavier = "Heavy end";
    public const string Screens = "What will be made for it";
    public const string ScreensHint =
        "One screen for each ink. They are bound to these pictures: if one of them changed, this would be another version.";
    public const string ScreenCaution =
        "A screen is not a contract colour proof. Pictures are computed for daylight and shown in sRGB; not to scale.";

    // Approve
    public const string ApproveTitle = "Four things to check";
    public const string TickWords = "The words are spelled as they should be";
    public const string TickSize = "Size and place are right";
    public const string TickGarments = "Garments, sizes and counts are right";
    public const string TickColours = "The colours may fall anywhere in the range shown";
    public const string YourName = "Your name";
    public const string NameHint = "It is kept with the record, as you type it.";
    public const string ToReview = "Go on to the last look";
    public const string BackToProof = "Back to the proof";

    public const string Remark = "Anything you want to say";
    public const string RemarkHint = "Leave it empty if there is nothing.";
    public const string Means = "If you wrote something: is it";
    public const string MeansRemark = "only a remark; print it as it is";
    public const string MeansChange = "a change; do not print before it is made";
    public const string MeansThing = "Which thing shall change";
    public const string ProblemMeans =
        "You wrote something beside your approval. Say whether it is only a remark or a change: nothing is printed on an \"if\".";
    public const string ProblemMeansThing = "Choose which thing your words mean.";

    // The mailed code
    public const string CodeTitle = "A code from your mailbox";
    public const string CodeHint = "Eight digits. Blanks do not matter.";
    public const string Code = "The code";
    public const string MailCode = "Mail me a code";

    public static string CodeWhy(string address) =>
        $"For this order we ask for a code that is mailed to {address}. It shows that whoever answers also reads that mailbox.";

    public static string CodeAsked(string address) =>
        $"If a code can be sent now, it is in the mailbox of {address} within a minute. It is good for {Approvals.Decisions.CodeRules.Minutes} minutes and one answer; a newer code ends the older. At most {Approvals.Decisions.CodeRules.PerHour} an hour are sent.";

    // Not for people
    public const string LeaveEmpty = "Leave this empty";
    public const string LeaveAlone = "Leave this alone";

    // This was not me
    public const string DisputeTitle = "Was this not you?";
    public const string DisputeHint =
        "Press the button if the answer below is not yours. Production stands still then, and we call you; nothing is printed meanwhile.";
    public const string DisputeWords = "What happened, if you know";
    public const string Dispute = "This was not me";
    public const string DisputedTitle = "Production stands still.";
    public const string Disputed =
        "We have written down that the answer was not yours and told the people in the shop. They will call you. Nothing is printed until that is settled.";

    // Changes
    public const string ChangesTitle = "What should change?";
    public const string ChangesHint =
        "Name the thing and say what it should be instead. Nothing is made until a new version has come to you.";
    public const string Thing = "Which thing";
    public const string Instead = "What should change about it";
    public const string Anything = "Anything else";
    public const string AThing = "Choose…";

    // Last look
    public const string LastLook = "A last look";
    public const string Seen = "What you were shown";
    public const string Said = "What you say";
    public const string NotYet = "Not sent yet. Press the button below to send it, or go back and change it.";
    public const string SendChanges = "Send these changes";
    public const string GoBack = "Go back";

    public static string ApproveVersion(int number) => $"Approve version {number}";

    // Answers
    public const string StaleTitle = "A newer version is out";
    public const string DecidedTitle = "This version is already decided";
    public const string OpenNewest = "Look at the newest version";
    public const string OpenReceipt = "See the record";
    public const string LookAgain = "Look again";
    public const string ReopenTitle = "Open the link in your mail again";
    public const string Reopen = "This browser does not hold your link any more, or the link belongs to somebody else.";

    // Receipt
    public const string ApprovedTitle = "Approved. Thank you.";
    public const string ChangesSentTitle = "Your changes are with us.";
    public const string ReceiptApproved =
        "We have written it down and mailed you a copy. Production can begin; if you did not mean it, call us at once.";
    public const string ReceiptChanges =
        "We have written them down and mailed you a copy. A new version will come to you by mail.";
    public const string TakenBackTitle = "Your answer is taken back.";
    public const string ReceiptTakenBack =
        "We have written it down and mailed you a copy. Nothing will be made until you answer again through the link in your mail.";
    public const string NoLongerStands = "This answer was taken back afterwards and does not stand any more.";
    public const string TakeBackTitle = "Pressed too soon?";
    public const string TakeBackHint = "You can take your answer back until";
    public const string TakeBack = "Take back my answer";
    public const string Packet = "Download the sealed packet";
    public const string PacketHint =
        "Pictures, plates, ink list, your words and the proof that they are in our log. Anyone can check it without us.";

    public const string Missing = "Please look at this";
    public const string Problem1Words = "Tick the box about the words, or ask for changes.";
    public const string Problem2Size = "Tick the box about size and place, or ask for changes.";
    public const string Problem3Garments = "Tick the box about garments and counts, or ask for changes.";
    public const string Problem4Colours = "Tick the box about the colours, or ask for changes.";
    public const string ProblemName = "Type your name, so that the record says who decided.";
    public const string ProblemNothing = "Say at least one thing that should change.";
    public const string ProblemThing = "Choose which thing you mean beside each text.";
}
