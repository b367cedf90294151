"""What a variant costs, and what it would cost if: read from the quote, reckoned nowhere here."""
