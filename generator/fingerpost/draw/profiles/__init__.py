"""What is recognised by sight, beside a healthy finger."""
