"""What is out and what comes back: pieces, consignments, goods-in."""
