"""What is known of ingredients, with where each figure comes from. What is not known is blank, never "none"."""
