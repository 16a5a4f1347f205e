using System.Collections;
using System.Reflection;
using System.Text.Json;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Tests.Works;

/// <summary>
/// Facts of any type with members at and between the ends of their ranges, made from the contracts by reflection: a
/// type added later takes part by itself. Few ids, so that they meet.
/// </summary>
internal static class AnyFact
{
    public static IFact Of(Dice dice) => Of(dice.Of(FactTypes.All).Value, dice);

    public static IFact Of(Type type, Dice dice) => (IFact)Make(type, dice);

    private static object Make(Type type, Dice dice)
    {
        var made = System.Runtime.CompilerServices.RuntimeHelpers.GetUninitializedObject(type);
        foreach (var property in type.GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            var mayMiss = new NullabilityInfoContext().Create(property).ReadState == NullabilityState.Nullable;
            if (property.CanWrite && !(mayMiss && dice.Is())) property.SetValue(made, Value(property, dice));
        }

        return made;
    }

    private static object? Value(PropertyInfo property, Dice dice)
    {
        var type = Nullable.GetUnderlyingType(property.PropertyType) ?? property.PropertyType;
        if (property.GetCustomAttribute<QuantityAttribute>() is { } quantity)
        {
            var number = dice.Of([quantity.Least, quantity.Most, (quantity.Least + quantity.Most) / 2, quantity.Least + 0.5]);
            return type == typeof(int) ? (object)(int)number : Math.Min(number, quantity.Most);
        }

        if (type.IsArray) return List(property, type, dice);
        if (type == typeof(JsonElement)) return JsonSerializer.SerializeToElement(dice.Of<object?>([null, 1, "text", new { siteId = "s" }]));
        if (type.IsEnum) return dice.Of([.. Enum.GetValues(type).Cast<object>()]);
        if (type == typeof(bool)) return dice.Is();
        if (type == typeof(string)) return Text(property, dice);
        return Make(type, dice);
    }

    private static string Text(PropertyInfo property, Dice dice) => property.Name switch
    {
        "From" or "To" => dice.Of(["driver", "x0", "x1", "x2"]),
        "Type" => dice.Of(["Point", "LineString"]),
        "TargetType" => dice.Of(FactTypes.All).Key,
        "TargetSource" => dice.Of(["crew-a", "crew-b", "office"]),
        "TargetId" => $"f{1 + dice.Below(8)}",
        "Core" => dice.Of(["1", "2"]),
        _ => Histories.Id(dice, "x"),
    };

    private static object List(PropertyInfo property, Type type, Dice dice)
    {
        var element = type.GetElementType()!;
        var list = property.GetCustomAttribute<ListAttribute>();
        var count = Math.Max(list?.Least ?? 2, Math.Min(list?.Most ?? 3, dice.Below(4)));
        IList made = Array.CreateInstance(element, count);
        for (var i = 0; i < count; i++)
        {
            made[i] = element == typeof(string) ? Histories.Id(dice, "x")
                : element == typeof(double) ? dice.Of([-90.0, 0.0, 12.5])
                : element == typeof(double[]) ? new[] { 7.1, 50.7 }
                : Make(element, dice);
        }

        return made;
    }
}
