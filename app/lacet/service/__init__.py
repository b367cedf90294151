"""What window and command line do alike: opens a project, gathers inputs, keeps, issues, imports, follows."""
