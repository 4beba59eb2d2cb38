"""The same content for machines, and for comparing what readers see."""
