"""Pages for people who hold an address and sign in nowhere."""
