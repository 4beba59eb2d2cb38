"""The sweep: every case that the desk's form can make, planned, and held against what no reader may see."""
