"""What people type: shape and field checks only."""
