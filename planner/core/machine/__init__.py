"""What is driven or carried: tools, tips, set-up, speeds and patterns."""
