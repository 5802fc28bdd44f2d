"""What templates may say: wording, marks and the way about."""
