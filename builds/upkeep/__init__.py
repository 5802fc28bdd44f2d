"""What keeps the site running: is it well, what did it do, and copies of it all."""
