"""What stands beside a hand in a picture: table and block, the other hand, a person, arrows and signs."""
