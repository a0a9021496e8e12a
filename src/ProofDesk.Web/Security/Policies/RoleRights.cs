using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Security.Policies;

/// <summary>The table of roles: docs/people.md says the same to people.</summary>
public static class RoleRights
{
    /// <summary>Rights that change nothing; whoever has no other can do no more than read.</summary>
    public static bool OnlyReads(Right right) =>
        right is Right.ReadOrders or Right.SeeClients or Right.ReadRecords or Right.ReadHouse or Right.ReadAudit;

    public static bool Has(this StaffRole role, Right right) =>
        right == Right.OwnAccount
        || role switch
        {
            StaffRole.Owner => true,
            StaffRole.Staff => right is not (Right.RuleShop or Right.KeepPeople or Right.ReadAudit),
            StaffRole.Production => right is Right.ReadOrders or Right.TakeFilms or Right.Produce,
            StaffRole.Designer => right is Right.ReadOrders or Right.WorkOnArt,
            StaffRole.Auditor => OnlyReads(right),
            _ => false,
        };

    /// <summary>What a program's key may do: a part of a role, never people, rules or films without approval.</summary>
    public static bool Has(this KeyScope scope, Right right) =>
        scope switch
        {
            KeyScope.Reading => right is Right.ReadOrders or Right.ReadRecords or Right.ReadHouse,
            KeyScope.Orders => right
                is Right.ReadOrders
                    or Right.SeeClients
                    or Right.ReadRecords
                    or Right.ReadHouse
                    or Right.TakeOrders
                    or Right.WorkOnArt
                    or Right.Send,
            KeyScope.Production => right is Right.ReadOrders or Right.TakeFilms,
            _ => false,
        };

    public static string Word(this KeyScope scope) =>
        scope switch
        {
            KeyScope.Reading => "reading",
            KeyScope.Orders => "taking orders",
            KeyScope.Production => "production",
            _ => "nothing",
        };

    public static string Means(this KeyScope scope) =>
        scope switch
        {
            KeyScope.Reading => "reads orders, proofs, records and the rate card; sees no clients' addresses",
            KeyScope.Orders => "reads all that, sees clients' addresses, takes orders, has proofs made and sends them",
            KeyScope.Production => "reads orders and proofs; takes the films of approved versions",
            _ => "nothing",
        };

    public static string Word(this StaffRole role) =>
        role switch
        {
            StaffRole.Owner => "owner",
            StaffRole.Staff => "staff",
            StaffRole.Production => "production",
            StaffRole.Designer => "designer",
            StaffRole.Auditor => "auditor",
            _ => "nobody",
        };

    public static string Means(this StaffRole role) =>
        role switch
        {
            StaffRole.Owner => "everything, people and rules of the shop among it",
            StaffRole.Staff => "orders, proofs, sending, records, production",
            StaffRole.Production => "reads orders and proofs; films of approved versions, press checks, counts, scan",
            StaffRole.Designer => "art, drafts and comparing; sends and releases nothing, sees no clients' addresses",
            StaffRole.Auditor => "reads everything and the audit page; changes nothing",
            _ => "nothing",
        };
}
