"""The packaged tables; every row names its source."""
