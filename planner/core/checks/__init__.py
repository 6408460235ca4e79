"""What a plan is held against before it is given: each check says what is wrong and what to do."""
