using System.Reflection;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Checks.Across;

namespace FleetLight.Record.Checks.Members;

/// <summary>Checks a record of whatever type it was made for.</summary>
internal interface IShape
{
    /// <summary>Checks the record.</summary>
    void Check(object record, CheckRun run);
}

/// <summary>One member of a record, with what its contract states of it.</summary>
/// <typeparam name="T">The record.</typeparam>
internal abstract class Member<T>(string name)
{
    /// <summary>Its name on the wire.</summary>
    public string Name { get; } = name;

    /// <summary>Checks it.</summary>
    public abstract void Check(T owner, CheckRun run);

    /// <summary>A member that must be there is not.</summary>
    protected void Missing(CheckRun run) => run.Invalid(Name, $"{Name} is missing.", $"Give {Name}.");
}

/// <summary>Makes shapes by reflection, once for each type; checking then calls plain delegates.</summary>
internal static class Shape
{
    /// <summary>The shape of a type.</summary>
    public static IShape For(Type type) =>
        (IShape)Activator.CreateInstance(typeof(Shape<>).MakeGenericType(type))!;
}

/// <summary>Checks records of one type: member by member, then what the members must say together.</summary>
/// <typeparam name="T">The record.</typeparam>
internal sealed class Shape<T> : IShape
    where T : class
{
    private static readonly Member<T>[] Members = Make();
    private static readonly Action<T, CheckRun>? Together = AcrossMembers.Of<T>();

    /// <inheritdoc/>
    public void Check(object record, CheckRun run) => CheckAll((T)record, run);

    /// <summary>Checks a record.</summary>
    public static void CheckAll(T record, CheckRun run)
    {
        var before = run.Problems.Count;
        foreach (var member in Members) member.Check(record, run);
        // Members that are wrong by themselves would only be complained about twice.
        if (run.Problems.Count == before) Together?.Invoke(record, run);
    }

    private static Member<T>[] Make()
    {
        var nullability = new NullabilityInfoContext();
        var members = new List<Member<T>>();
        foreach (var property in typeof(T).GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            var name = JsonNamingPolicy.CamelCase.ConvertName(property.Name);
            var mayMiss = nullability.Create(property).ReadState == NullabilityState.Nullable;
            if (MemberOf(property, name, mayMiss) is { } member) members.Add(member);
        }

        return [.. members];
    }

    private static Member<T>? MemberOf(PropertyInfo property, string name, bool mayMiss)
    {
        var type = property.PropertyType;
        var plain = Nullable.GetUnderlyingType(type) ?? type;
        if (property.GetCustomAttribute<QuantityAttribute>() is { } quantity)
        {
            return type == typeof(double[])
                ? new NumberListMember<T>(
                    name, Get<double[]?>(property), mayMiss, property.GetCustomAttribute<ListAttribute>()!, quantity)
                : NumberOf(property, name, quantity);
        }

        if (plain.IsEnum)
            return (Member<T>)Create(
                plain == type ? typeof(WordMember<,>) : typeof(MaybeWordMember<,>),
                plain,
                property,
                name);
        if (type == typeof(string))
        {
            return property.GetCustomAttribute<ThingIdAttribute>() is not null
                ? new IdMember<T>(name, Get<string?>(property), mayMiss)
                : new TextMember<T>(
                    name,
                    Get<string?>(property),
                    mayMiss,
                    property.GetCustomAttribute<TextAttribute>()!.Most,
                    property.GetCustomAttribute<FormAttribute>());
        }

        if (property.GetCustomAttribute<ListAttribute>() is { } list) return ListOf(property, name, mayMiss, list);
        return type.IsClass && type.Assembly == typeof(IFact).Assembly
            ? (Member<T>)Activator.CreateInstance(
                typeof(NestedMember<,>).MakeGenericType(typeof(T), type), name, GetOf(property, type), mayMiss)!
            : null;
    }

    private static Member<T> NumberOf(PropertyInfo property, string name, QuantityAttribute quantity)
    {
        var type = property.PropertyType;
        if (type == typeof(double))
        {
            var get = Get<double>(property);
            return new NumberMember<T>(name, owner => get(owner), quantity);
        }

        if (type == typeof(int))
        {
            var get = Get<int>(property);
            return new NumberMember<T>(name, owner => get(owner), quantity);
        }

        if (type == typeof(int?))
        {
            var get = Get<int?>(property);
            return new NumberMember<T>(name, owner => get(owner), quantity);
        }

        return new NumberMember<T>(name, Get<double?>(property), quantity);
    }

    private static Member<T> ListOf(PropertyInfo property, string name, bool mayMiss, ListAttribute list)
    {
        var element = property.PropertyType.GetElementType()!;
        if (element == typeof(string)) return new IdListMember<T>(name, Get<string?[]?>(property), mayMiss, list);
        if (element == typeof(double) || element == typeof(double[]))
            return new CountMember<T>(name, Get<Array?>(property), mayMiss, list);
        return (Member<T>)Activator.CreateInstance(
            typeof(NestedListMember<,>).MakeGenericType(typeof(T), element),
            name, GetOf(property, property.PropertyType), mayMiss, list)!;
    }

    private static object Create(Type member, Type argument, PropertyInfo property, string name) =>
        Activator.CreateInstance(
            member.MakeGenericType(typeof(T), argument), name, GetOf(property, property.PropertyType))!;

    private static Func<T, TValue> Get<TValue>(PropertyInfo property) =>
        property.GetMethod!.CreateDelegate<Func<T, TValue>>();

    private static Delegate GetOf(PropertyInfo property, Type type) =>
        property.GetMethod!.CreateDelegate(typeof(Func<,>).MakeGenericType(typeof(T), type));
}
