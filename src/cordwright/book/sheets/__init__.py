"""The sheets of the book, in the order of the job."""
