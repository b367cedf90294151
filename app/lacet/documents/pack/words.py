"""Words of the pack that several of its files say."""

from lacet.language import marked
from lacet.trip.words import MealKind, PointKind

POINTS = {
    PointKind.WATER: marked("Water"),
    PointKind.FOOD: marked("Food"),
    PointKind.SHELTER: marked("Shelter"),
    PointKind.HAZARD: marked("Take care"),
    PointKind.VIEWPOINT: marked("View"),
    PointKind.CHARGING: marked("Charging"),
    PointKind.TAXI_PICKUP: marked("Taxi pick-up"),
}
MEALS = {
    MealKind.BREAKFAST: marked("Breakfast"),
    MealKind.PACKED_LUNCH: marked("Packed lunch"),
    MealKind.DINNER: marked("Dinner"),
}
