"""From text to tree. Knows the grammar and the words of the language; nothing of food."""
