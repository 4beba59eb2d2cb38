"""What a protocol, a vocabulary and a case are. Nothing here reads files or makes wording."""
