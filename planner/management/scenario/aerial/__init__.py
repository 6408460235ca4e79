"""Pictures of the demo places as from above, drawn from their shapes alone."""
