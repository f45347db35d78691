using System.Xml.Linq;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Npgsql;

namespace SetWeek.Service.Access.Sessions;

/// <summary>
/// The keys of ASP.NET Core's data protection, in PostgreSQL, so that every node reads the cookies and form tokens of the others.
/// The framework makes a new key before the old one expires, and keeps the old ones to read what they protected.
/// </summary>
internal sealed class ProtectionKeys(NpgsqlDataSource database) : IXmlRepository
{
    public IReadOnlyCollection<XElement> GetAllElements()
    {
        using var read = database.CreateCommand("select xml from setweek.protection_key order by name");
        using var rows = read.ExecuteReader();
        var keys = new List<XElement>();
        while (rows.Read()) keys.Add(XElement.Parse(rows.GetString(0)));
        return keys;
    }

    public void StoreElement(XElement element, string friendlyName)
    {
        using var store = database.CreateCommand("""
            insert into setweek.protection_key (name, xml) values (@name, @xml)
            on conflict (name) do update set xml = excluded.xml
            """);
        store.Parameters.AddWithValue("name", friendlyName);
        store.Parameters.AddWithValue("xml", element.ToString(SaveOptions.DisableFormatting));
        store.ExecuteNonQuery();
    }
}
