"""Rules about what there is: ids, pointers, lists, look-alikes, parts that are drawn."""
