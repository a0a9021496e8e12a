namespace ProofDesk.Web.Security.Policies;

/// <summary>What an action needs. Each is an authorisation policy of the same name; roles are tables of them.</summary>
public enum Right
{
    /// <summary>Looks at the desk: orders, proofs, films on the light table, inks, presses and devices, the scan.</summary>
    ReadOrders,

    /// <summary>Sees who the client is reached at.</summary>
    SeeClients,

    /// <summary>Changes the art and the prints of an order and has drafts made.</summary>
    WorkOnArt,

    /// <summary>Takes new orders and reorders.</summary>
    TakeOrders,

    /// <summary>Sends proofs, calls links back, reads the letters: a letter holds a link, and a link can decide.</summary>
    Send,

    /// <summary>Writes down answers given elsewhere and settles what holds an order.</summary>
    WriteAnswers,

    /// <summary>Reads the shop's records and hands out packets.</summary>
    ReadRecords,

    /// <summary>Takes the films of an approved version.</summary>
    TakeFilms,

    /// <summary>Answers for films that leave without approval.</summary>
    ReleaseUnapproved,

    /// <summary>Writes down press checks, samples, replacements and counts.</summary>
    Produce,

    /// <summary>Keeps the shop's inks, presses, devices and frames.</summary>
    KeepMeans,

    /// <summary>Reads the outbox, the state of the server and the rules of the shop.</summary>
    ReadHouse,

    /// <summary>Changes the rules of the shop.</summary>
    RuleShop,

    /// <summary>Invites and removes people and gives them their roles.</summary>
    KeepPeople,

    /// <summary>Reads the audit page.</summary>
    ReadAudit,

    /// <summary>One's own account: password, second factor, sessions. Everybody who is signed in.</summary>
    OwnAccount,
}
