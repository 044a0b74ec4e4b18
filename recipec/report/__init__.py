"""Findings for people (text), for scripts (JSON) and for other tools (SARIF). Knows nothing of food."""
