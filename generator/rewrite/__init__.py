"""Canonical YAML. The only importer of ruamel."""
