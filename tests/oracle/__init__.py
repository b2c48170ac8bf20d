"""An independent judge of cards: rasterises the kit's data and shares no code with the tool."""
