"""What can be done in the windows: one list, from which menus, buttons, keys and tips are made."""
