"""The trade: questions about masonry in, figures with their rule, source and caution out. Pure."""
