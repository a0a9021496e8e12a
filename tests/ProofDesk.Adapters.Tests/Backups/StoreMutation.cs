using System.Globalization;
using Microsoft.Data.Sqlite;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Tests.Backups;

/// <summary>One change to a store of the kind an insider, a bad disk or a careless hand makes.</summary>
internal sealed class StoreMutation(DataFolder folder, Random random)
{
    // SQLITE_CONSTRAINT
    private const int Constraint = 19;

    /// <summary>What is sealed: by a digest in a leaf, or by a digest in something that has one.</summary>
    private static readonly Dictionary<string, string[]> Sealed = new(StringComparer.Ordinal)
    {
        ["proof_version"] =
        [
            "Id",
            "OrderId",
            "Number",
            "ManifestBytes",
            "ManifestSha256",
            "FreezeLeafIndex",
            "StatementTexts",
            "FrozenAt",
        ],
        ["version_file"] = ["VersionId", "Path", "Role", "MediaType", "Bytes", "Sha256", "Sha512"],
        ["decision"] =
        [
            "Id",
            "OrderId",
            "VersionId",
            "InvitationId",
            "Kind",
            "Nonce",
            "TypedName",
            "Recipient",
            "EvidenceLevel",
            "Comment",
            "ManifestSha256",
            "StatementBytes",
            "StatementSha256",
            "StatementText",
            "LeafIndex",
            "At",
        ],
        ["decision_slot"] = ["VersionId", "DecisionId"],
        ["log_leaf"] = ["Index", "Kind", "LeafHash", "EventSha256", "Ref", "At"],
        ["log_head"] = ["Size", "LastAt"],
        ["log_checkpoint"] = ["Size", "Note", "At"],
        ["shop_event"] = ["Id", "Kind", "VersionId", "Actor", "EventBytes", "EventSha256", "LeafIndex", "At"],
    };

    /// <summary>Makes one change and says which.</summary>
    public string Make() =>
        random.Next(11) switch
        {
            0 => FlipByteOfFile(),
            1 => RemoveFile(),
            2 => CutFile(),
            3 => SwapLeaves(),
            4 => DeleteRow(),
            5 => DropGuard(),
            6 => FlipMark(),
            7 => ChangeKey(),
            _ => ChangeCell(),
        };

    private string FlipByteOfFile()
    {
        var path = AnyFile();
        var bytes = File.ReadAllBytes(path);
        var at = random.Next(bytes.Length);
        bytes[at] ^= (byte)(1 << random.Next(8));
        File.WriteAllBytes(path, bytes);
        return $"byte {at} of {path}";
    }

    private string RemoveFile()
    {
        var path = AnyFile();
        File.Delete(path);
        return $"removed {path}";
    }

    private string CutFile()
    {
        var path = AnyFile();
        var bytes = File.ReadAllBytes(path);
        File.WriteAllBytes(path, bytes[..random.Next(bytes.Length)]);
        return $"cut {path}";
    }

    private string FlipMark()
    {
        var bytes = File.ReadAllBytes(folder.LogHighWater);
        // Within what is signed: the origin, the size, the root.
        var at = random.Next(Array.IndexOf(bytes, (byte)0xe2) - 1);
        bytes[at] ^= 1;
        File.WriteAllBytes(folder.LogHighWater, bytes);
        return $"byte {at} of the high-water mark";
    }

    // Of the key as text: the first line says what it is, the end of the base64 has bits that mean nothing.
    private string ChangeKey()
    {
        var path = random.Next(3) == 0 ? folder.Trust : folder.LogKey;
        var bytes = File.ReadAllBytes(path);
        switch (random.Next(4))
        {
            case 0:
                File.Delete(path);
                return $"removed {path}";
            case 1:
                File.WriteAllBytes(path, bytes[..random.Next(bytes.Length - 5)]);
                return $"cut {path}";
            default:
                var at = bytes.Length - 5 - random.Next(30);
                bytes[at] ^= (byte)(1 + random.Next(7));
                File.WriteAllBytes(path, bytes);
                return $"byte {at} of {path}";
        }
    }

    private string SwapLeaves()
    {
        using var db = new Raw(folder);
        var last = Convert.ToInt32(db.Value("SELECT max(\"Index\") FROM log_leaf"), CultureInfo.InvariantCulture);
        var one = random.Next(last);
        db.Run(
            $"UPDATE log_leaf SET \"Index\" = -1 WHERE \"Index\" = {one}; UPDATE log_leaf SET \"Index\" = {one} WHERE \"Index\" = {one + 1};"
                + $"UPDATE log_leaf SET \"Index\" = {one + 1} WHERE \"Index\" = -1"
        );
        return $"leaves {one} and {one + 1} swapped";
    }

    private string DropGuard()
    {
        using var db = new Raw(folder, keepGuards: true);
        var name = db.Value("SELECT name FROM sqlite_master WHERE type = 'trigger' ORDER BY random() LIMIT 1");
        db.Run($"DROP TRIGGER {name}");
        return $"guard {name} dropped";
    }

    private string DeleteRow()
    {
        using var db = new Raw(folder);
        var table = Any([.. Sealed.Keys.Where(table => db.Rows(table) > 0)]);
        var row = db.AnyRow(table, random);
        db.Run($"DELETE FROM {table} WHERE rowid = {row}");
        return $"row {row} of {table} deleted";
    }

    private string ChangeCell()
    {
        using var db = new Raw(folder);
        while (true)
        {
            var table = Any([.. Sealed.Keys.Where(table => db.Rows(table) > 0)]);
            var column = Any(Sealed[table]);
            var row = db.AnyRow(table, random);
            var old = db.Value($"SELECT \"{column}\" FROM {table} WHERE rowid = {row}");
            if (old is DBNull)
            {
                continue;
            }
            try
            {
                db.Set(table, column, row, Other(old));
                return $"{column} of row {row} of {table}";
            }
            // Another row has that key: the engine itself refuses this one.
            catch (SqliteException taken) when (taken.SqliteErrorCode == Constraint) { }
        }
    }

    private object Other(object old)
    {
        switch (old)
        {
            case long number:
                return number + 1 + random.Next(3);
            case byte[] { Length: > 0 } bytes:
                bytes[random.Next(bytes.Length)] ^= (byte)(1 << random.Next(8));
                return bytes;
            case string { Length: > 0 } text:
                var at = random.Next(text.Length);
                // An identifier is the same in capitals, so a letter is exchanged and not only its case.
                return text[..at] + (char.ToLowerInvariant(text[at]) == 'e' ? 'a' : 'e') + text[(at + 1)..];
            default:
                return "x";
        }
    }

    private string AnyFile() =>
        Any(
            Directory.GetFiles(Path.Combine(folder.Blobs, "sha256"), "*", SearchOption.AllDirectories).Order().ToArray()
        );

    private string Any(string[] of) => of[random.Next(of.Length)];

    /// <summary>The database without its guards, which are put back afterwards as a careful insider would.</summary>
    private sealed class Raw : IDisposable
    {
        private readonly SqliteConnection _connection;
        private readonly List<string> _guards = [];

        public Raw(DataFolder folder, bool keepGuards = false)
        {
            _connection = new SqliteConnection($"Data Source={folder.Database};Foreign Keys=False;Pooling=False");
            _connection.Open();
            // One transaction and no flush: taking the guards away and putting them back is a hundred statements.
            Run("PRAGMA ignore_check_constraints = ON; PRAGMA synchronous = OFF; BEGIN");
            if (keepGuards)
            {
                return;
            }
            using var command = _connection.CreateCommand();
            command.CommandText = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'";
            var names = new List<string>();
            using (var reader = command.ExecuteReader())
            {
                while (reader.Read())
                {
                    names.Add(reader.GetString(0));
                    _guards.Add(reader.GetString(1));
                }
            }
            names.ForEach(name => Run($"DROP TRIGGER {name}"));
        }

        public long Rows(string table) => (long)Value($"SELECT count(*) FROM {table}");

        public long AnyRow(string table, Random random) =>
            (long)Value($"SELECT rowid FROM {table} ORDER BY rowid LIMIT 1 OFFSET {random.Next((int)Rows(table))}");

        public object Value(string sql)
        {
            using var command = _connection.CreateCommand();
            command.CommandText = sql;
            return command.ExecuteScalar()!;
        }

        public void Set(string table, string column, long row, object value)
        {
            using var command = _connection.CreateCommand();
            command.CommandText = $"UPDATE {table} SET \"{column}\" = $value WHERE rowid = {row}";
            command.Parameters.AddWithValue("$value", value);
            command.ExecuteNonQuery();
        }

        public void Run(string sql)
        {
            using var command = _connection.CreateCommand();
            command.CommandText = sql;
            command.ExecuteNonQuery();
        }

        public void Dispose()
        {
            _guards.ForEach(Run);
            Run("COMMIT");
            _connection.Dispose();
        }
    }
}
