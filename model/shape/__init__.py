"""Profiles, sheets, outlines and the meshes made of them."""
