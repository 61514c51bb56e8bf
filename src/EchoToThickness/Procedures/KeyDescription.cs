using System.Collections.Concurrent;
using System.Reflection;
using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>One key of a described record: its attribute, its property, and what kind of value the file holds.</summary>
public sealed class KeyDescription
{
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<KeyDescription>> Cache = new();

    private KeyDescription(PropertyInfo property, ProcedureKeyAttribute attribute)
    {
        Property = property;
        Attribute = attribute;
        Type type = property.PropertyType;
        IsNullable =
            Nullable.GetUnderlyingType(type) is not null
            || new NullabilityInfoContext().Create(property).WriteState == NullabilityState.Nullable;
        type = Nullable.GetUnderlyingType(type) ?? type;
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IReadOnlyList<>))
        {
            IsList = true;
            type = type.GetGenericArguments()[0];
        }
        ValueType = type;
        IsSection = type.IsClass && type != typeof(string);
        IsText = type.GetInterfaces().Any(i => i.IsGenericType && i.GetGenericTypeDefinition() == typeof(ITextValue<>));
        if (!IsSection && !IsText && !type.IsEnum && !Scalars.Contains(type))
            throw new NotSupportedException($"{property.DeclaringType}.{property.Name}: {type} has no form in a file.");
    }

    private static readonly Type[] Scalars = [typeof(bool), typeof(int), typeof(long), typeof(double), typeof(string)];

    /// <summary>The property that holds the value.</summary>
    public PropertyInfo Property { get; }

    /// <summary>Name, description, dimension and range.</summary>
    public ProcedureKeyAttribute Attribute { get; }

    /// <summary>Name in the file.</summary>
    public string Key => Attribute.Key;

    /// <summary>Type of the value, or of one entry of a list, without nullability.</summary>
    public Type ValueType { get; }

    /// <summary>Whether the key holds a list.</summary>
    public bool IsList { get; }

    /// <summary>Whether leaving the key out is a value of its own (null).</summary>
    public bool IsNullable { get; }

    /// <summary>Whether the value is a described record: a table, or a list of tables.</summary>
    public bool IsSection { get; }

    /// <summary>Whether the value is one piece of text with its own form (<see cref="ITextValue{TSelf}"/>).</summary>
    public bool IsText { get; }

    /// <summary>Keys of a described record, in declaration order; base type first.</summary>
    /// <param name="record">A type whose properties carry <see cref="ProcedureKeyAttribute"/>.</param>
    public static IReadOnlyList<KeyDescription> Of(Type record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return Cache.GetOrAdd(record, Describe);
    }

    private static KeyDescription[] Describe(Type record)
    {
        KeyDescription[] keys = record
            .GetProperties(BindingFlags.Public | BindingFlags.Instance)
            .OrderBy(property => property.MetadataToken)
            .Select(property => (property, attribute: property.GetCustomAttribute<ProcedureKeyAttribute>()))
            .Where(pair => pair.attribute is not null)
            .Select(pair => new KeyDescription(pair.property, pair.attribute!))
            .ToArray();
        if (keys.Length == 0)
            throw new NotSupportedException($"{record} has no property with a {nameof(ProcedureKeyAttribute)}.");
        return keys;
    }

    /// <summary>Word and description of every value of an enumeration, in declaration order.</summary>
    /// <param name="enumeration">An enumeration whose fields carry <see cref="ChoiceAttribute"/>.</param>
    public static IReadOnlyList<(object Value, ChoiceAttribute Choice)> ChoicesOf(Type enumeration)
    {
        ArgumentNullException.ThrowIfNull(enumeration);
        return enumeration
            .GetFields(BindingFlags.Public | BindingFlags.Static)
            .Select(field => (field.GetValue(null)!, field.GetCustomAttribute<ChoiceAttribute>()))
            .Where(pair => pair.Item2 is not null)
            .Select(pair => (pair.Item1, pair.Item2!))
            .ToArray();
    }
}
