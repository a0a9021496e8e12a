namespace ProofDesk.Adapters.Tests.Mail.Peers;

/// <summary>A mail server of other people's making on loopback, told to answer one command with one reply until it is told otherwise.</summary>
internal interface IMailPeer : IAsyncDisposable
{
    int Port { get; }

    /// <param name="at">mail, rcpt or data (the final dot); empty: every letter is taken</param>
    void Answer(string at, string reply);

    /// <summary>The letters it took, without the lines it adds itself.</summary>
    IReadOnlyList<string> Taken();
}
