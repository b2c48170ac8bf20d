"""Where lights and the battery go: plain data in, places out. Page mm."""
