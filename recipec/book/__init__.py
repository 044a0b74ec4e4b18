"""The driver: reads a book's files, compiles them, writes the output. The only reader and writer of users' files."""
