bayleaf.words("tb",{"tb":"2:0"});
