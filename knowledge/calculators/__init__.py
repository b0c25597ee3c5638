"""One file a topic: a pure function (question, rulebook) → findings."""
