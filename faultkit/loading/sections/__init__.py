"""One builder a section: from nodes to frozen records, with the rules that hold for them."""
