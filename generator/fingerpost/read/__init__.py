"""Reading: YAML and tables into the model, each slip with its line."""
