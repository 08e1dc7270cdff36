"""What work costs and earns, and how bars are cut: pure sums."""
