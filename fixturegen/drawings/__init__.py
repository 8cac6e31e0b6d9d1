"""Drawings of parts and assemblies: records first, then paper."""
