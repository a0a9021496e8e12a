namespace ProofDesk.Web.SignIn;

/// <summary>A button that has the browser speak to an authenticator and sends the answer.</summary>
/// <param name="Address">takes the answer; the question is at /options below it</param>
/// <param name="Act">get or create, as navigator.credentials calls them</param>
/// <param name="Then">a way back that is carried along</param>
public sealed record PasskeyAsk(string Address, string Act, string Words, string? Then = null);
