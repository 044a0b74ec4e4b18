"""Texts, spans and findings: what every other ring stands on. Standard library only."""
