# Help on what does not exist.
wortfit help brew
