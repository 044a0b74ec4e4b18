"""From tree to model, with findings: what the words mean in a kitchen."""
