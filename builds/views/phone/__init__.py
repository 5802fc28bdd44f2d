"""What a technician's phone keeps: pages to read, and acts to send later."""
