"""The database under the chat: tables, opening, inbox, talks, outbox."""
