"""One folder a screen: what it does in NAME.py, how it looks in NAME.tcss."""
