"""What is seen. Qt lives here and nowhere else; nothing is computed here."""
