-- What the server's role may do in a PostgreSQL database of ProofDesk; see running-a-server.md. Run it as the owner of the tables after
-- the first start and after every upgrade, in that database:  psql --set ON_ERROR_STOP=1 --file postgres-rights.sql proofdesk
-- The role proofdesk_server must exist and own nothing. It is the tests' copy too: PostgresRightsTests runs a shop with it.

BEGIN;

REVOKE ALL ON SCHEMA public FROM PUBLIC;
REVOKE ALL ON ALL TABLES IN SCHEMA public FROM PUBLIC, proofdesk_server;
REVOKE ALL ON ALL SEQUENCES IN SCHEMA public FROM PUBLIC, proofdesk_server;

GRANT USAGE ON SCHEMA public TO proofdesk_server;
GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO proofdesk_server;
GRANT USAGE, SELECT ON ALL SEQUENCES IN SCHEMA public TO proofdesk_server;

-- Sealed: rows come, and stay as they came.
REVOKE UPDATE, DELETE ON
  decision, log_leaf, log_checkpoint, log_epoch, shop_event, shop_definition, audit_event, reminder, mail_return
  FROM proofdesk_server;

-- Erasing a person empties these four; the guard of the table lets nothing else through, and only after the event that says so.
GRANT UPDATE ("TypedName", "Recipient", "Comment", "StatementBytes") ON decision TO proofdesk_server;

-- Moved on, never taken away.
REVOKE DELETE ON api_key, log_head, log_key, proof_version, shop FROM proofdesk_server;

-- The tables are the owner's to change.
REVOKE INSERT, UPDATE, DELETE ON "__EFMigrationsHistory" FROM proofdesk_server;

COMMIT;
