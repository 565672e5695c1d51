"""Lets `python -m cordwright` do what `cordwright` does."""

from cordwright.cli import main

if __name__ == "__main__":
    main()
