"""Papers as PDF, set by typst from what the pages of the book are filled with."""
