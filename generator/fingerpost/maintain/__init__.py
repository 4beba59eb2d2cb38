"""What those need who keep the collection."""
