namespace ProofDesk.Adapters.Database.Migrations;

/// <summary>
/// The rules neither a bug nor a stray tool may break, held by the database itself. One list of rules, told in two dialects.
/// SQLite drops triggers when a migration rebuilds their table: a migration that alters a guarded table ends with these again.
/// </summary>
internal static class Guards
{
    private static readonly string[] AppendOnly = ["decision", "log_leaf", "log_checkpoint", "audit_event"];

    /// <summary>Columns of proof_version that nobody may set again once the manifest is there.</summary>
    private static readonly string[] Bound =
    [
        "ManifestSha256",
        "ManifestBytes",
        "OrderId",
        "Number",
        "RequestJson",
        "FindingsJson",
        "FreezeLeafIndex",
        "FrozenAt",
        "StatementTexts",
    ];

    private sealed record Rule(string Name, string Table, string Event, string When, string Says);

    // Conditions are plain SQL that both engines read alike; OLD and NEW are rows in both.
    private static IEnumerable<Rule> Rules()
    {
        foreach (var rule in AppendOnly.SelectMany(Kept))
        {
            yield return rule;
        }
        yield return new Rule(
            "log_leaf_gapless",
            "log_leaf",
            "INSERT",
            "NEW.\"Index\" <> (SELECT coalesce(max(leaf.\"Index\") + 1, 0) FROM log_leaf AS leaf)",
            "log_leaf has a gap"
        );
        yield return new Rule(
            "proof_version_bound",
            "proof_version",
            "UPDATE OF " + string.Join(", ", Bound.Select(column => $"\"{column}\"")),
            "OLD.\"ManifestSha256\" IS NOT NULL",
            "proof_version is frozen"
        );
        yield return new Rule(
            "proof_version_forward",
            "proof_version",
            "UPDATE",
            "OLD.\"ManifestSha256\" IS NOT NULL AND NEW.\"State\" IN ('Draft', 'Rendering', 'Failed')",
            "proof_version is frozen"
        );
        yield return new Rule(
            "proof_version_kept",
            "proof_version",
            "DELETE",
            "OLD.\"ManifestSha256\" IS NOT NULL",
            "proof_version is frozen"
        );
        yield return new Rule(
            "version_file_closed",
            "version_file",
            "INSERT",
            FrozenVersionOf("NEW"),
            "files of a frozen version are closed"
        );
        yield return new Rule(
            "version_file_no_update",
            "version_file",
            "UPDATE",
            FrozenVersionOf("OLD"),
            "files of a frozen version are closed"
        );
        yield return new Rule(
            "version_file_kept",
            "version_file",
            "DELETE",
            FrozenVersionOf("OLD"),
            "files of a frozen version are closed"
        );
        yield return new Rule(
            "decision_of_manifest",
            "decision",
            "INSERT",
            "NOT EXISTS (SELECT 1 FROM proof_version AS version WHERE version.\"Id\" = NEW.\"VersionId\" "
                + "AND version.\"ManifestSha256\" = NEW.\"ManifestSha256\")",
            "decision names another manifest than its version"
        );
        yield return new Rule("decision_slot_no_update", "decision_slot", "UPDATE", "1 = 1", "decision_slot is not moved");
        yield return new Rule(
            "decision_slot_freed_by_event",
            "decision_slot",
            "DELETE",
            "NOT EXISTS (SELECT 1 FROM decision AS later JOIN decision AS held ON held.\"Id\" = OLD.\"DecisionId\" "
                + "WHERE later.\"VersionId\" = OLD.\"VersionId\" AND later.\"Kind\" = 'Withdraw' "
                + "AND later.\"LeafIndex\" > held.\"LeafIndex\")",
            "decision_slot is freed by a withdrawal only"
        );
    }

    // A migration that ran is never told anew: the rules of a later table are a list of their own.
    private static IEnumerable<Rule> DefinitionRules() =>
        Kept("shop_definition")
            .Append(
                new Rule(
                    "shop_definition_next",
                    "shop_definition",
                    "INSERT",
                    "NEW.\"Version\" <> (SELECT coalesce(max(one.\"Version\"), 0) + 1 FROM shop_definition AS one "
                        + "WHERE one.\"Kind\" = NEW.\"Kind\" AND one.\"Key\" = NEW.\"Key\")",
                    "shop_definition skips or repeats a version"
                )
            );

    // Events never change and keep their leaf; a seat is never moved; epochs follow one another. Personal data of a decision may be
    // emptied once the event that says so is in the log: nothing else of the row may differ.
    private static IEnumerable<Rule> EventRules() =>
        Kept("shop_event")
            .Concat(Kept("log_epoch"))
            .Concat(Kept("reminder"))
            .Concat(Kept("mail_return"))
            .Append(
                new Rule(
                    "log_epoch_next",
                    "log_epoch",
                    "INSERT",
                    "NEW.\"Number\" <> (SELECT coalesce(max(one.\"Number\"), 0) + 1 FROM log_epoch AS one)",
                    "log_epoch skips or repeats a number"
                )
            )
            .Append(
                new Rule(
                    "log_key_fixed",
                    "log_key",
                    "UPDATE",
                    "NEW.\"VerifierKey\" <> OLD.\"VerifierKey\" OR NEW.\"FromSize\" <> OLD.\"FromSize\" OR OLD.\"RevokedFromSize\" IS NOT NULL",
                    "log_key changes by being revoked once"
                )
            )
            .Append(new Rule("log_key_kept", "log_key", "DELETE", "1 = 1", "log_key is kept"))
            .Append(new Rule("seat_taken_no_update", "seat_taken", "UPDATE", "1 = 1", "seat_taken is not moved"))
            .Append(
                new Rule(
                    "seat_taken_freed_by_event",
                    "seat_taken",
                    "DELETE",
                    "NOT EXISTS (SELECT 1 FROM decision AS later JOIN decision AS held ON held.\"Id\" = OLD.\"DecisionId\" "
                        + "WHERE later.\"VersionId\" = OLD.\"VersionId\" AND later.\"Kind\" = 'Withdraw' "
                        + "AND later.\"LeafIndex\" > held.\"LeafIndex\")",
                    "seat_taken is freed by a withdrawal only"
                )
            );

    private static readonly string[] KeptWhenErased =
    [
        "Id",
        "OrderId",
        "VersionId",
        "InvitationId",
        "Kind",
        "Nonce",
        "EvidenceLevel",
        "ManifestSha256",
        "StatementSha256",
        "StatementText",
        "Flags",
        "LeafIndex",
        "At",
    ];

    private static Rule DecisionErasure() =>
        new(
            "decision_no_update",
            "decision",
            "UPDATE",
            "NOT ("
                + string.Join(" AND ", KeptWhenErased.Select(column => $"NEW.\"{column}\" IS NOT DISTINCT FROM OLD.\"{column}\""))
                + " AND NEW.\"TypedName\" = '' AND NEW.\"Recipient\" = '' AND NEW.\"Comment\" = '' AND length(NEW.\"StatementBytes\") = 0 "
                + "AND EXISTS (SELECT 1 FROM shop_event AS said WHERE said.\"Kind\" = 'PersonalDataErased' AND said.\"SubjectId\" = OLD.\"Id\"))",
            "decision is append-only"
        );

    private static IEnumerable<Rule> Kept(string table) =>
        [
            new($"{table}_no_update", table, "UPDATE", "1 = 1", $"{table} is append-only"),
            new($"{table}_no_delete", table, "DELETE", "1 = 1", $"{table} is append-only"),
        ];

    public static IEnumerable<string> Sqlite() => Sqlite(Rules());

    public static IEnumerable<string> DefinitionsSqlite() => Sqlite(DefinitionRules());

    public static IEnumerable<string> Postgres() =>
        Postgres(Rules())
            .Append(
                "CREATE FUNCTION no_truncate() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
                    + "RAISE EXCEPTION '% is append-only', TG_TABLE_NAME; END $$;"
            )
            .Concat(AppendOnly.Append("version_file").Append("proof_version").Select(NoTruncate));

    public static IEnumerable<string> DefinitionsPostgres() =>
        Postgres(DefinitionRules()).Append(NoTruncate("shop_definition"));

    public static IEnumerable<string> EventsSqlite() =>
        Sqlite(EventRules().Append(DecisionErasure())).Prepend("DROP TRIGGER decision_no_update;");

    public static IEnumerable<string> EventsPostgres() =>
        Postgres(EventRules())
            .Concat(Postgres([DecisionErasure()]).Take(1).Select(made => made.Replace("CREATE FUNCTION", "CREATE OR REPLACE FUNCTION", StringComparison.Ordinal)))
            .Concat(new[] { "shop_event", "log_epoch", "reminder", "mail_return" }.Select(NoTruncate));

    private static IEnumerable<string> Sqlite(IEnumerable<Rule> rules) =>
        rules.Select(rule =>
                $"CREATE TRIGGER {rule.Name} BEFORE {rule.Event} ON {rule.Table} FOR EACH ROW WHEN {rule.When} "
                + $"BEGIN SELECT RAISE(ABORT, '{rule.Says}'); END;"
            );

    private static IEnumerable<string> Postgres(IEnumerable<Rule> rules)
    {
        // A trigger's WHEN may not hold a subquery in PostgreSQL, so each rule is a function with an IF.
        foreach (var rule in rules)
        {
            yield return $"CREATE FUNCTION {rule.Name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
                + $"IF {rule.When} THEN RAISE EXCEPTION '{rule.Says}'; END IF; "
                + $"IF TG_OP = 'DELETE' THEN RETURN OLD; END IF; RETURN NEW; END $$;";
            yield return $"CREATE TRIGGER {rule.Name} BEFORE {rule.Event} ON {rule.Table} FOR EACH ROW EXECUTE FUNCTION {rule.Name}();";
        }
    }

    private static string NoTruncate(string table) =>
        $"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} EXECUTE FUNCTION no_truncate();";

    private static string FrozenVersionOf(string row) =>
        $"EXISTS (SELECT 1 FROM proof_version AS version WHERE version.\"Id\" = {row}.\"VersionId\" "
        + "AND version.\"ManifestSha256\" IS NOT NULL)";
}
