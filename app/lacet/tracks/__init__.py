"""Where a stage runs: points, distance, ascent, profile, cutting and joining; GPX; elevation rasters.

Importing the package imports nothing; pyproj, shapely, rasterio and gpxpy are imported where first needed.
"""
