"""Two values of the model side by side: what is otherwise, and which way it leans."""
