using ProofDesk.Web.Start;

var app = Server.Build(args);
await Server.PrepareAsync(app);
await app.RunAsync();

/// <summary>Entry point; named so that the tests can start the server in process.</summary>
public partial class Program;
